// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Chamber and units against the closed forms of first-order lags. */
class SimulatedClimateTest {
  private static final double LAG_S = 720;

  private static SimulatedBenchSpec.ChamberSpec chamber(double overshootK, boolean purged) {
    return new SimulatedBenchSpec.ChamberSpec(0, 2.0 / 60, 240, overshootK, purged);
  }

  private static SimulatedClimate climate(double overshootK, boolean purged) {
    return new SimulatedClimate(chamber(overshootK, purged), 0, Map.of("1", LAG_S));
  }

  private static void minutes(SimulatedClimate climate, double minutes) {
    climate.advanceTo(Duration.ofMillis(Math.round(minutes * 60_000)));
  }

  @Test
  void onARampTheAirTrailsByRateTimesTimeConstant() {
    SimulatedClimate climate = climate(0, true);
    climate.setpoint(123);
    minutes(climate, 45);
    double programme = 23 + 45 * 2;
    assertEquals(programme - 2.0 / 60 * 240, climate.airDegC(), 0.05);
    double behind = 2.0 / 60 * LAG_S * (1 - Math.exp(-45 * 60 / LAG_S));
    assertEquals(programme - 8 - behind, climate.unitDegC("1"), 0.6);
  }

  @Test
  void afterASoakAirAndUnitAreAtTheSetpoint() {
    SimulatedClimate climate = climate(3, true);
    climate.setpoint(50);
    minutes(climate, 600);
    assertEquals(50, climate.airDegC(), 1e-6);
    assertEquals(50, climate.unitDegC("1"), 1e-6);
  }

  @Test
  void theUnitsLagIsAFirstOrderOne() {
    SimulatedClimate climate = climate(0, true);
    climate.setpoint(33);
    minutes(climate, 60);
    double first = 33 - climate.unitDegC("1");
    minutes(climate, 72);
    double later = 33 - climate.unitDegC("1");
    assertEquals(Math.exp(-1), later / first, 0.02, "one lag of 12 min later");
  }

  @Test
  void theAirOvershootsAndComesBack() {
    SimulatedClimate climate = climate(3, true);
    climate.setpoint(50);
    double highest = 0;
    for (double at = 0; at < 120; at += 0.1) {
      minutes(climate, at);
      highest = Math.max(highest, climate.airDegC());
    }
    assertEquals(53, highest, 0.1);
    assertEquals(50, climate.airDegC(), 0.01);
  }

  @Test
  void aShortMoveOvershootsLess() {
    SimulatedClimate climate = climate(3, true);
    climate.setpoint(25);
    double highest = 0;
    for (double at = 0; at < 120; at += 0.1) {
      minutes(climate, at);
      highest = Math.max(highest, climate.airDegC());
    }
    assertEquals(25.6, highest, 0.05, "a fifth of it for 2 K");
  }

  @Test
  void theChamberGoesByItsOwnThermometer() {
    SimulatedClimate climate = new SimulatedClimate(chamber(0, true), 0.4, Map.of("1", LAG_S));
    climate.setpoint(40);
    minutes(climate, 600);
    assertEquals(40, climate.shownDegC(), 1e-6);
    assertEquals(39.6, climate.unitDegC("1"), 1e-6);
  }

  @Test
  void aSlowerRampThanTheFastestIsHeld() {
    SimulatedClimate climate = climate(0, true);
    climate.ramp(0.5 / 60);
    climate.setpoint(43);
    minutes(climate, 20);
    assertTrue(climate.airDegC() < 33, "at most 0.5 K/min");
  }

  @Test
  void dewFormsInMoistAirButNotInDriedOrPurgedAir() {
    assertTrue(wetWhenCold(climate(0, false)), "moist");
    assertFalse(wetWhenCold(climate(0, true)), "purged");
    SimulatedClimate dried = climate(0, false);
    dried.setpoint(60);
    minutes(dried, 120);
    dried.setpoint(5);
    minutes(dried, 300);
    assertFalse(dried.wet(), "dried by the hot leg");
  }

  private static boolean wetWhenCold(SimulatedClimate climate) {
    climate.setpoint(5);
    minutes(climate, 240);
    return climate.wet();
  }

  /** At 22.8 degC and 44 % the dew point is 9.9 degC (psychrometric tables, from memory). */
  @Test
  void theRoomsDewPointIsThatOfTheTables() {
    assertEquals(9.9, new SimulatedRoom().dewDegC(0), 0.1);
  }
}
