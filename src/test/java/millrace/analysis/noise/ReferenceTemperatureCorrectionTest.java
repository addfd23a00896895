// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.function.DoubleBinaryOperator;
import millrace.analysis.noise.ReferenceTemperatureCorrection.PointMean;
import millrace.analysis.noise.ReferenceTemperatureCorrection.Reference;
import millrace.analysis.uncertainty.CorrelatedNoise.Use;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ReferenceTemperatureCorrectionTest {
  private static final Reference REFERENCE = new Reference(23, 1.5);

  /** Soaks end up to a kelvin from their temperature. */
  private static final double[] VISITS_DEGC = {23.1, 28.4, 49.3, 23.8, 5.6, 22.3};

  /** Doubles every 10 K: usual for insulation (common practice, no source). */
  private static double leakage(double degC, double volts) {
    return -5 * volts * Math.pow(2, (degC - 23) / 10);
  }

  private static List<PointMean> means(double[] visitsDegC, DoubleBinaryOperator current) {
    List<PointMean> means = new ArrayList<>();
    for (double degC : visitsDegC) {
      for (double volts : new double[] {0, 5, 10}) {
        means.add(
            new PointMean(
                volts + " V", degC, volts, 1e6 + volts + current.applyAsDouble(degC, volts)));
      }
    }
    return means;
  }

  private static ReferenceTemperatureCorrection of(
      double[] visitsDegC, DoubleBinaryOperator current) {
    return ReferenceTemperatureCorrection.of(means(visitsDegC, current), REFERENCE);
  }

  @Test
  void isExactForAPolynomialWithATermForEachTemperatureAway() {
    DoubleBinaryOperator current =
        (t, v) -> 2 * (t - 23) + 0.05 * (t - 23) * (t - 23) - 0.3 * v * (t - 23);
    double found = of(VISITS_DEGC, current).offset(23.8, 5);
    assertEquals(current.applyAsDouble(23.8, 5), found, 1e-6);
  }

  @Test
  void leavesLessThanATenthOfALeakageThatDoublesEveryTenKelvin() {
    double moved = leakage(23.8, 10) - leakage(23, 10);
    double found = of(VISITS_DEGC, ReferenceTemperatureCorrectionTest::leakage).offset(23.8, 10);
    assertEquals(moved, found, 0.1 * Math.abs(moved));
  }

  /** Two temperatures away from T_ref, and a leakage that doubles faster or slower than usual. */
  @ParameterizedTest
  @ValueSource(doubles = {8.5, 10, 11.5})
  void leavesLessThanATenthOfALeakageWithTwoOtherTemperatures(double doublesK) {
    DoubleBinaryOperator current = (t, v) -> -5 * v * Math.pow(2, (t - 23) / doublesK);
    double moved = current.applyAsDouble(23.8, 10) - current.applyAsDouble(23, 10);
    double found = of(new double[] {23.1, 49.3, 23.8, 5.6, 22.3}, current).offset(23.8, 10);
    assertEquals(moved, found, 0.1 * Math.abs(moved));
  }

  @Test
  void isNothingWhereNoOtherTemperatureWasVisited() {
    double[] same = {23.1, 23.8, 22.3};
    assertEquals(0, of(same, ReferenceTemperatureCorrectionTest::leakage).offset(23.8, 10));
    assertEquals(0, ReferenceTemperatureCorrection.of(List.of(), REFERENCE).offset(23, 0));
  }

  @Test
  void isNothingAwayFromTheReferenceTemperature() {
    assertEquals(0, of(VISITS_DEGC, ReferenceTemperatureCorrectionTest::leakage).offset(28.4, 10));
  }

  @Test
  void servesOneLoadAlone() {
    List<PointMean> means = new ArrayList<>();
    for (double degC : VISITS_DEGC) {
      means.add(new PointMean("0 ohm", degC, 0, 3 * (degC - 23)));
    }
    double found = ReferenceTemperatureCorrection.of(means, REFERENCE).offset(22.3, 0);
    assertEquals(3 * (22.3 - 23), found, 1e-9);
  }

  /** Without it, what the soaks leave is taken for slow noise of the visits. */
  @Test
  void visitsThatDifferInTemperatureAloneTellNoSlowNoise() {
    double plain = uOfADifference(false);
    double corrected = uOfADifference(true);
    assertTrue(corrected < plain / 3, corrected + " against " + plain);
  }

  private static double uOfADifference(boolean corrected) {
    Random random = new Random(5);
    List<PointReadings> visits = new ArrayList<>();
    ReferenceTemperatureCorrection correction =
        of(VISITS_DEGC, ReferenceTemperatureCorrectionTest::leakage);
    for (int v = 0; v < VISITS_DEGC.length; v++) {
      double degC = VISITS_DEGC[v];
      double[] t = new double[100];
      double[] y = new double[100];
      for (int i = 0; i < t.length; i++) {
        t[i] = 3000.0 * v + i;
        y[i] = leakage(degC, 10) + random.nextGaussian();
      }
      PointReadings visit = new PointReadings("p" + v, v, Math.abs(degC - 23) <= 1.5, "10 V", t, y);
      visits.add(corrected ? visit.less(correction.offset(degC, 10)) : visit);
    }
    return RunNoise.of(visits, Set.of(), 1, Optional.empty())
        .shared()
        .forUse(Use.VISITS_AND_TIME)
        .carried(Map.of("p2", 0.5, "p4", -0.5))
        .orElseThrow()
        .u();
  }
}
