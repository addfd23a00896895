// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.List;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;
import org.junit.jupiter.api.Test;

class MeterNoiseTest {
  private static final MeterRange SMALL = new MeterRange(2e-3, 2.4e-3, 1e-9);
  private static final MeterRange LARGE = new MeterRange(20e-3, 24e-3, 10e-9);

  private static BenchFile bench(String accuracy) {
    String text =
        """
        bench: b
        instruments:
          m:
            driver: scpi meter
            address: tcp 127.0.0.1:5025
            roles: {current meter: {accuracy: [%s]}}
          t:
            driver: plain thermometer
            address: tcp 127.0.0.1:5026
            roles: {lab thermometer: {}}
        """
            .formatted(accuracy);
    return BenchForms.read("b.yaml", text.getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void statedNoiseIsAShareOfTheFullScaleOfItsRange() {
    BenchFile file = bench("{range: 2 mA, noise: 2 ppm}, {noise: 0.5 ppm}");
    assertEquals(4e-9, MeterNoise.ofOneCycle(file, RoleName.CURRENT_METER, SMALL), 1e-15);
    assertEquals(10e-9, MeterNoise.ofOneCycle(file, RoleName.CURRENT_METER, LARGE), 1e-15);
    assertEquals(List.of(), MeterNoise.unstated(file));
  }

  @Test
  void whereNothingIsStatedItIsThreeSteps() {
    BenchFile file = bench("{range: 2 mA, reading: 10 ppm, noise: 0 ppm}, {reading: 10 ppm}");
    assertEquals(0, MeterNoise.ofOneCycle(file, RoleName.CURRENT_METER, SMALL));
    assertEquals(30e-9, MeterNoise.ofOneCycle(file, RoleName.CURRENT_METER, LARGE), 1e-15);
    assertEquals(List.of("m"), MeterNoise.unstated(file));
  }
}
