// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The simulated unit against arithmetic done by hand; its rules are common practice, no source. */
class SimulatedUnitTest {
  private static final double TIGHT = 1e-12;

  static LongStream seeds() {
    return LongStream.rangeClosed(1, 200);
  }

  private static SimulatedUnit unit(SimulatedUnitSpec.Range... ranges) {
    return new SimulatedUnit(Kinds.of(ranges), new Seeds(1));
  }

  private static double currentA(SimulatedUnit unit, String range, double terminalV, double degC) {
    return unit.currentA(range, terminalV, degC, Kinds.SUPPLY_V);
  }

  @Test
  void fiveVoltsAcrossFiveKiloohmAreOneMilliampere() {
    SimulatedUnit unit = unit(Kinds.ideal("a", 5, 5e3), Kinds.ideal("b", 5, 50e3));
    assertEquals(1e-3, currentA(unit, "a", 0, 23), TIGHT * 1e-3);
    assertEquals(1e-4, currentA(unit, "b", 3, 40), TIGHT * 1e-4);
  }

  @Test
  void aBetaOfAHundredTakesOnePartInAHundredAndOne() {
    SimulatedUnitSpec.Range range = Kinds.ideal("a", 5, 5e3);
    SimulatedPartSpec bipolar = new SimulatedPartSpec.PassDevice("Q1", Optional.of(100.0), 0, 1);
    double passed = currentA(unit(Kinds.with(range, bipolar)), "a", 0, 23);
    assertEquals(1e-3 * 100 / 101, passed, TIGHT * 1e-3);
  }

  @Test
  void whatIsInSeriesDropsVoltageAndTakesNoCurrent() {
    SimulatedUnitSpec.Range range = Kinds.ideal("a", 5, 5e3);
    SimulatedUnit without = unit(range);
    SimulatedUnit with = unit(Kinds.with(range, new SimulatedPartSpec.Drop("D1", 0.6)));
    assertEquals(currentA(without, "a", 2, 23), currentA(with, "a", 2, 23), TIGHT * 1e-3);
    assertEquals(15, without.truth("a", 23).collapseV(), 1e-12);
    assertEquals(14.4, with.truth("a", 23).collapseV(), 1e-12);
  }

  @Test
  void aWarmJunctionDropsTwoMillivoltLessPerKelvin() {
    SimulatedUnitSpec.Range range = Kinds.ideal("a", 5, 5e3);
    SimulatedUnit with = unit(Kinds.with(range, new SimulatedPartSpec.Drop("D1", 0.65)));
    assertEquals(14.35 + 0.04, with.truth("a", 43).collapseV(), 1e-12);
  }

  @Test
  void leakageToGroundGrowsWithVoltageAndDoublesPerTenKelvin() {
    SimulatedPartSpec leak = new SimulatedPartSpec.Leakage("L1", 200e9, 10);
    SimulatedUnit leaky = unit(Kinds.with(Kinds.ideal("a", 5, 5e6), leak));
    double least = (1e-6 - currentA(leaky, "a", 10, 23)) / (10 / 200e9);
    assertTrue(least <= 1 && least >= 1 / 3.0, "a good unit leaks no more: " + least);
    assertEquals(2, lost(leaky, 10, 33) / lost(leaky, 10, 23), 1e-6);
    assertEquals(0.5, lost(leaky, 5, 23) / lost(leaky, 10, 23), 1e-6);
  }

  private static double lost(SimulatedUnit unit, double terminalV, double degC) {
    return currentA(unit, "a", 0, degC) - currentA(unit, "a", terminalV, degC);
  }

  @Test
  void anOffsetWeighsTenTimesMoreWhereTheSetVoltageIsTenTimesSmaller() {
    SimulatedUnitSpec spec =
        Kinds.of(Kinds.ideal("high", 5, 5e3), Kinds.ideal("low", 0.5, 500)).with("A1", 50e-6);
    SimulatedUnit unit = new SimulatedUnit(spec, new Seeds(1));
    assertEquals(10e-6, currentA(unit, "high", 0, 23) / 1e-3 - 1, 1e-12);
    assertEquals(100e-6, currentA(unit, "low", 0, 23) / 1e-3 - 1, 1e-12);
  }

  @Test
  void aDefectMovesOnlyTheRangesThatHaveThePart() {
    SimulatedUnitSpec good = Kinds.of(Kinds.ideal("a", 5, 5e3), Kinds.ideal("b", 5, 50e3));
    SimulatedUnit bad = new SimulatedUnit(good.with("R b", 1e-3), new Seeds(1));
    assertEquals(1e-3, currentA(bad, "a", 0, 23), TIGHT * 1e-3);
    assertEquals(1e-4 / 1.001, currentA(bad, "b", 0, 23), TIGHT * 1e-4);
    SimulatedUnit fed = new SimulatedUnit(good.with("S1", -1.5), new Seeds(1));
    assertEquals(13.5, fed.truth("a", 23).collapseV(), 1e-12);
  }

  @Test
  void aPartThatTheUnitLacksIsRefused() {
    SimulatedUnitSpec good = Kinds.of(Kinds.ideal("a", 5, 5e3));
    String message =
        assertThrows(IllegalArgumentException.class, () -> good.with("R9", 1)).getMessage();
    assertEquals("the unit has no part 'R9'", message);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void aGoodUnitStaysInsideWhatItsPartsAllow(long seed) {
    SimulatedUnitSpec spec = SimulatedUnitSpec.demo();
    SimulatedUnit unit = new SimulatedUnit(spec, new Seeds(seed));
    for (SimulatedUnitSpec.Range r : notEmpty(spec.ranges())) {
      double error = unit.currentA(r.name(), 0, 23, 18) / r.nominalA() - 1;
      double allowed = 40e-6 + 50e-6 + 20e-6 / 2.5 + 1 / 330e3;
      assertTrue(Math.abs(error) <= allowed * 1.001, r.name() + " is off by " + error);
      double tempco = unit.tempcoPerK(r.name(), 0, List.of(5.0, 23.0, 45.0));
      double most = 1.2e-6 + 2.5e-6 + 0.2e-6 / 2.5;
      assertTrue(Math.abs(tempco) <= most * 1.001, r.name() + " drifts by " + tempco);
    }
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void ratiosWithinANetworkStayWithinItsTracking(long seed) {
    SimulatedUnit unit = new SimulatedUnit(SimulatedUnitSpec.demo(), new Seeds(seed));
    double cold = ratio(unit, 3);
    double hot = ratio(unit, 43);
    assertTrue(Math.abs(cold - 1) < 30e-6 + 20e-6 + 10 * 1e-6, "ratio off by " + (cold - 1));
    assertTrue(Math.abs(hot / cold - 1) / 40 < 1.01e-6, "ratio drifts " + (hot / cold - 1) / 40);
  }

  private static double ratio(SimulatedUnit unit, double degC) {
    return unit.currentA("1mA", 0, degC, 18) / unit.currentA("100uA", 0, degC, 18) / 10;
  }

  @Test
  void theSameSeedIsTheSameUnitAndAnotherIsNot() {
    double one =
        new SimulatedUnit(SimulatedUnitSpec.demo(), new Seeds(1)).currentA("1mA", 1, 30, 18);
    assertEquals(
        one, new SimulatedUnit(SimulatedUnitSpec.demo(), new Seeds(1)).currentA("1mA", 1, 30, 18));
    assertNotEquals(
        one, new SimulatedUnit(SimulatedUnitSpec.demo(), new Seeds(2)).currentA("1mA", 1, 30, 18));
  }

  @Test
  void aRangeThatTheUnitLacksIsRefused() {
    SimulatedUnit unit = unit(Kinds.ideal("a", 5, 5e3));
    String message =
        assertThrows(IllegalArgumentException.class, () -> unit.currentA("b", 0, 23, 20))
            .getMessage();
    assertEquals("the unit has no range 'b'; expected one of [a]", message);
  }

  @Test
  void aDefectCanLieInATempco() {
    SimulatedUnitSpec good = Kinds.of(Kinds.ideal("a", 5, 5e3), Kinds.ideal("b", 5, 50e3));
    SimulatedUnit bad =
        new SimulatedUnit(good.with("R b" + SimulatedUnitSpec.TEMPCO, 20e-6), new Seeds(1));
    List<Double> span = List.of(22.0, 23.0, 24.0);
    assertEquals(0, bad.tempcoPerK("a", 0, span), 1e-12);
    assertEquals(-20e-6, bad.tempcoPerK("b", 0, span), 1e-9);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void theUnitOfTheComparisonHasTwoPpmPerKelvin(long seed) {
    SimulatedUnit unit = new SimulatedUnit(SimulatedUnitSpec.comparison(), new Seeds(seed));
    double tempco = unit.tempcoPerK("1mA", 0, List.of(5.0, 23.0, 35.0, 50.0));
    assertEquals(2e-6, tempco, 0.01e-6);
    double noise = unit.spec().noise().white() / Math.sqrt(10 / 50.0);
    assertEquals(1e-6, noise, 1e-12, "a reading of ten cycles at 50 Hz");
  }
}
