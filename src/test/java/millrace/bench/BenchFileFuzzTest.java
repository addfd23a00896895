// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.util.List;
import millrace.document.Hostile;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a bench file is read, or refused with its place. */
class BenchFileFuzzTest {
  static List<byte[]> shipped() {
    return Hostile.shipped("examples", ".bench.yaml");
  }

  @MethodSource("shipped")
  @FuzzTest
  void isReadOrRefused(byte[] bytes) {
    Hostile.refused("b.yaml", bytes, b -> BenchForms.read("b.yaml", b));
  }
}
