// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.util.List;
import millrace.document.Hostile;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a datasheet is read, or refused with its place. */
class DatasheetFileFuzzTest {
  static List<byte[]> shipped() {
    return Hostile.shipped("examples", ".datasheet.yaml");
  }

  @MethodSource("shipped")
  @FuzzTest
  void isReadOrRefused(byte[] bytes) {
    Hostile.refused("d.yaml", bytes, b -> DatasheetFile.read("d.yaml", b));
  }
}
