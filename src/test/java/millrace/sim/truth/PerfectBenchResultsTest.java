// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The truth of a unit against closed forms. */
class PerfectBenchResultsTest {

  private static PerfectBenchResults truth(SimulatedUnitSpec.Range range, double degC) {
    return new SimulatedUnit(Kinds.of(range), new Seeds(1)).truth(range.name(), degC);
  }

  /** With I = I_0 (1 - exp(-(V_h - V)/s)) the fall is d where V = V_h + s ln d. */
  @ParameterizedTest
  @ValueSource(doubles = {1e-4, 1e-3, 1e-2})
  void complianceOfAFlatPlateauIsWhereTheExponentialReachesTheCriterion(double d) {
    PerfectBenchResults truth = truth(Kinds.ideal("a", 5, 5e3), 23);
    double expected = 15 + Kinds.SOFTNESS_V * Math.log(d);
    assertEquals(expected, truth.line(d).complianceV(), 1e-9);
    assertEquals(expected, truth.complianceToShortV(d), 1e-9);
    assertEquals(0, truth.line(d).conductanceS(), 1e-18);
    assertEquals(1e-3, truth.line(d).shortA(), 1e-15);
  }

  @Test
  void aSlopingPlateauCrossesTheShortBeforeTheLine() {
    SimulatedPartSpec loose =
        new SimulatedPartSpec.PassDevice("Q1", Optional.empty(), 0, 2e4 / Kinds.IDEAL_GAIN);
    PerfectBenchResults truth = truth(Kinds.with(Kinds.ideal("a", 5, 5e3), loose), 23);
    PerfectBenchResults.Line line = truth.line(1e-3);
    assertTrue(line.conductanceS() > 1e-8, "G " + line.conductanceS());
    assertEquals(15 + Kinds.SOFTNESS_V * Math.log(1e-3), line.complianceV(), 1e-6);
    assertTrue(truth.complianceToShortV(1e-3) < line.complianceV() - 0.01);
  }

  @Test
  void outputConductanceIsCurrentOverEarlyVoltageTimesGainPlusLeakage() {
    SimulatedUnitSpec.Range range = Kinds.ideal("a", 5, 5e3);
    range =
        Kinds.with(range, new SimulatedPartSpec.PassDevice("Q1", Optional.empty(), 0, 10 / 1e12));
    SimulatedUnit unit = new SimulatedUnit(Kinds.of(range), new Seeds(1));
    double gain = 1e-3 / unit.truth("a", 23).outputConductanceS() * 1e12 / 10;
    assertTrue(gain >= 0.999e18 && gain <= 3.001e18, "a good amplifier has no less: " + gain);
    double slope = (unit.currentA("a", 1, 23, 20) - unit.currentA("a", 2, 23, 20)) / 1;
    assertEquals(slope, unit.truth("a", 23).outputConductanceS(), 1e-6 * slope);
    assertEquals(slope, unit.truth("a", 23).line(1e-3).conductanceS(), 1e-5 * slope);
  }

  @Test
  void tempcoIsThatOfTheReferenceLessThatOfTheResistor() {
    SimulatedUnitSpec.Range range = Kinds.ideal("a", 5, 5e3);
    SimulatedUnit unit =
        new SimulatedUnit(
            Kinds.of(
                Kinds.with(
                    Kinds.with(range, new SimulatedPartSpec.Reference("REF", 0, 4e-6)),
                    new SimulatedPartSpec.Resistor("R1", 5e3, 0, 9e-6, Optional.empty()))),
            new Seeds(5));
    List<Double> span = List.of(22.0, 23.0, 24.0);
    double slope = unit.tempcoPerK("a", 0, span);
    double by2K = unit.currentA("a", 0, 24, 20) / unit.currentA("a", 0, 22, 20) - 1;
    assertEquals(by2K / 2, slope, 1e-10);
    assertEquals(Math.abs(slope), unit.boxPerK("a", 0, span), 1e-10);
  }
}
