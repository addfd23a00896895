// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.util.List;
import millrace.document.Hostile;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a driver file is read, or refused with its place. */
class DriverFileFuzzTest {
  static List<byte[]> shipped() {
    return Hostile.shipped("drivers", ".yaml");
  }

  @MethodSource("shipped")
  @FuzzTest
  void isReadOrRefused(byte[] bytes) {
    Hostile.refused("d.yaml", bytes, b -> DriverForms.DRIVER.readFile("d.yaml", b));
  }
}
