// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Tolerance interval: it holds a stated share of all units with a stated confidence, if they are
 * normal (NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3; ISO 16269-6; methods.md 8). The
 * factor is exact: an integral over the mean, not an approximation.
 */
public final class ToleranceInterval {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  private ToleranceInterval() {}

  /**
   * The factor for both ends: 2 sqrt(n/(2 pi)) times the integral over x from 0 of P(chi2(n - 1) at
   * least (n - 1) r(x)^2/k^2) exp(-n x^2/2) = confidence, Phi(x + r) - Phi(x - r) = share.
   *
   * @param n values, 2 or more
   * @param share of units inside, above 0 and below 1
   * @param confidence above 0 and below 1
   * @return k
   */
  public static double twoSidedFactor(int n, double share, double confidence) {
    if (n < 2) {
      throw new IllegalArgumentException("%s values; a tolerance interval needs two".formatted(n));
    }
    ChiSquaredDistribution chi = new ChiSquaredDistribution(null, n - 1);
    double reach = 9 / Math.sqrt(n);
    int panels = 24;
    double[] x = GaussLegendreIntegration.nodes(0, reach, panels);
    double[] r = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      r[i] = reachFor(x[i], share);
    }
    double[] weights = GaussLegendreIntegration.weights(0, reach, panels);
    return solve(
        k -> {
          double sum = 0;
          for (int i = 0; i < x.length; i++) {
            double beyond = 1 - chi.cumulativeProbability((n - 1) * r[i] * r[i] / (k * k));
            sum += weights[i] * beyond * Math.exp(-n * x[i] * x[i] / 2);
          }
          return 2 * Math.sqrt(n / (2 * Math.PI)) * sum - confidence;
        });
  }

  private static double solve(DoubleUnaryOperator excess) {
    double high = 1;
    while (excess.applyAsDouble(high) < 0) {
      high *= 2;
    }
    return new BrentSolver(1e-13, 1e-12, 1e-15).solve(500, excess::applyAsDouble, 1e-6, high);
  }

  /** r with Phi(x + r) - Phi(x - r) = share. */
  private static double reachFor(double x, double share) {
    double r = x + NORMAL.inverseCumulativeProbability((1 + share) / 2);
    for (int i = 0; i < 60; i++) {
      double off = NORMAL.probability(x - r, x + r) - share;
      double step = off / (NORMAL.density(x + r) + NORMAL.density(x - r));
      r -= step;
      if (Math.abs(step) < 1e-14 * r) {
        break;
      }
    }
    return r;
  }
}
