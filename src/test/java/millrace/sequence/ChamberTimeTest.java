// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Map;
import millrace.sim.truth.SimulatedBenchSpec.ChamberSpec;
import millrace.sim.truth.SimulatedClimate;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Times of soaks against a chamber whose air and units are integrated second by second. */
class ChamberTimeTest {
  private static final double FROM_DEGC = 23;
  private static final double NEAR_K = 0.85;
  private static final double AIR_S = 240;
  private static final double WITHIN_S = 20;

  /** When a unit comes near its temperature for good, s. */
  private static int simulatedS(double toDegC, double tauS, double rampKPerS, double overshootK) {
    SimulatedClimate climate =
        new SimulatedClimate(
            new ChamberSpec(0, rampKPerS, AIR_S, overshootK, true), 0, Map.of("1", tauS));
    climate.setpoint(toDegC);
    int last = 0;
    for (int s = 1; s < 6 * 3600; s++) {
      climate.advanceTo(Duration.ofSeconds(s));
      if (Math.abs(climate.unitDegC("1") - toDegC) > NEAR_K) {
        last = s;
      }
    }
    return last + 1;
  }

  @ParameterizedTest(name = "to {0} degC, {1} s, {2} K/min")
  @CsvSource({
    "50, 480, 3",
    "5, 480, 3",
    "50, 480, 2",
    "5, 720, 2",
    "35, 720, 3",
    "-20, 300, 1",
    "75, 900, 5"
  })
  void aUnitComesNearItsTemperatureWhenAnAirThatOvershootsByTwoKelvinBringsIt(
      double toDegC, double tauS, double kPerMin) {
    ChamberTime time = new ChamberTime(tauS, kPerMin / 60, NEAR_K, 2e-6, 0, 1e5, 0);
    int simulated = simulatedS(toDegC, tauS, kPerMin / 60, 2);
    assertEquals(simulated, time.withinS(FROM_DEGC, toDegC, NEAR_K), WITHIN_S);
    // The drive counts: with an air that does not overshoot it takes minutes longer.
    assertTrue(simulatedS(toDegC, tauS, kPerMin / 60, 0) > simulated + 3 * WITHIN_S);
  }
}
