// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class CableChargeTimeTest {
  @Test
  void settlingBelowAMicroampereIsSlewAndTail() {
    BenchFile.Wiring wiring =
        new BenchFile.Wiring(
            Optional.empty(),
            0,
            false,
            100e-12,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            List.of(),
            Optional.empty());
    // 100 pF, 10 V at 100 nA: 10 ms; ln(1e7) * 100 pF * 100 Mohm = 161 ms
    assertEquals(0.010 + 0.1611810, CableChargeTime.seconds(wiring, 100e6), 1e-6);
  }
}
