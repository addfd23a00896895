// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

class RegressionTest {
  private static final double[] X = {0, 1, 2, 3, 4, 5, 6, 7};

  private static double[] filled(int n, double value) {
    double[] all = new double[n];
    Arrays.fill(all, value);
    return all;
  }

  private static double[] map(java.util.function.DoubleUnaryOperator f) {
    return Arrays.stream(X).map(f).toArray();
  }

  @Test
  void aStraightLineHasNoBreakThatImprovesIt() {
    double[] noisy = map(x -> 2 * x + (x % 2 == 0 ? 0.01 : -0.01));
    TwoSegmentFit fit = TwoSegmentFit.of(X, noisy, filled(8, 0.01)).orElseThrow();
    assertTrue(fit.chiSquaredOfOneLine() - fit.chiSquared() < 9.2);
  }

  @Test
  void fourObservationsLeaveNoFreedomForABreak() {
    double[] x = {0, 1, 2, 3};
    assertEquals(Optional.empty(), TwoSegmentFit.of(x, x, filled(4, 1)));
    double[] same = {1, 1, 1, 1, 1, 1};
    assertEquals(Optional.empty(), TwoSegmentFit.of(same, same, filled(6, 1)));
  }

  @Test
  void theIntervalOfTheBreakHoldsTheTruthAsOftenAsStated() {
    RandomGenerator chance = new Seeds(11).stream("break");
    int inside = 0;
    for (int k = 0; k < 1000; k++) {
      double[] x = new double[21];
      double[] y = new double[21];
      for (int i = 0; i < 21; i++) {
        x[i] = i * 0.5;
        y[i] = 10 - 0.3 * Math.max(0, x[i] - 7.3) + 0.02 * chance.nextGaussian();
      }
      double[] ends = TwoSegmentFit.of(x, y, filled(21, 0.02)).orElseThrow().profileInterval(4);
      inside += ends[0] <= 7.3 && 7.3 <= ends[1] ? 1 : 0;
    }
    assertEquals(954.5, inside, 25);
  }

  /** Two breaks may fit alike, and what lies between them worse; both are of the interval. */
  @Test
  void theIntervalOfTheBreakReachesToTheOutermostThatFitsAsWell() {
    RandomGenerator chance = new Seeds(12).stream("breaks");
    int apart = 0;
    for (int k = 0; k < 200; k++) {
      double[] x = new double[15];
      double[] y = new double[15];
      for (int i = 0; i < 15; i++) {
        x[i] = i;
        y[i] = 10 - 0.02 * Math.max(0, x[i] - 7.3) + 0.02 * chance.nextGaussian();
      }
      TwoSegmentFit fit = TwoSegmentFit.of(x, y, filled(15, 0.02)).orElseThrow();
      double[] ends = fit.profileInterval(4);
      boolean left = false;
      for (double at = fit.breakX(); at < 13.5; at += 0.05) {
        boolean fits = chiSquared(x, y, at) < fit.chiSquared() + 4 - 1e-6;
        assertTrue(!fits || at <= ends[1] + 1e-9, () -> Arrays.toString(ends));
        apart += fits && left ? 1 : 0;
        left |= !fits;
      }
    }
    assertTrue(apart > 0, "no draw has two breaks that fit alike");
  }

  private static double chiSquared(double[] x, double[] y, double at) {
    double[] ones = filled(x.length, 1);
    double[] beyond = new double[x.length];
    Arrays.setAll(beyond, i -> Math.max(0, x[i] - at));
    return LinearFit.of(new double[][] {ones, x, beyond}, y, filled(x.length, 0.02)).chiSquared();
  }

  @Test
  void theOrderOfObservationsDoesNotMatterToTheBreak() {
    double[] y = map(x -> 5 - 0.2 * Math.max(0, x - 4.3));
    double[] backX = new double[8];
    double[] backY = new double[8];
    Arrays.setAll(backX, i -> X[7 - i]);
    Arrays.setAll(backY, i -> y[7 - i]);
    TwoSegmentFit fit = TwoSegmentFit.of(backX, backY, filled(8, 1)).orElseThrow();
    assertEquals(4.3, fit.breakX(), 1e-12);
    assertEquals(-0.2, fit.slopeChange(), 1e-12);
  }

  @Test
  void dependentColumnsAreRefused() {
    double[][] columns = {filled(8, 1), filled(8, 3)};
    assertThrows(IllegalArgumentException.class, () -> LinearFit.of(columns, X, filled(8, 1)));
  }

  @Test
  void scatterBeyondItsBoundWidensWhatIsPointWiseOnly() {
    List<Estimate> y = new ArrayList<>();
    List<String> keys = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      keys.add("k" + i);
      y.add(
          Estimate.exact(i % 2)
              .with(ErrorSource.normal("noise", ErrorSource.POINT, "k" + i, 0.1, "1"), 1)
              .with(ErrorSource.normal("gain", ErrorSource.RUN, "all", 0.3, "1"), 1));
    }
    LinearFitOfEstimates fit = LinearFitOfEstimates.of(new double[][] {filled(8, 1)}, y, keys, "1");
    // chi squared = 8 (0.5/0.1)^2, nu = 7
    assertEquals(Math.sqrt(200.0 / 7), fit.birge(), 1e-12);
    Estimate mean = fit.coefficient(0);
    assertEquals(0.1 * fit.birge() / Math.sqrt(8), mean.pointUncertainty(), 1e-12);
    assertEquals(0.3, mean.standardUncertainty(s -> !s.pointWise()), 1e-12);
  }
}
