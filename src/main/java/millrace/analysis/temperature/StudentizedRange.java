package millrace.analysis.temperature;

import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * The studentized range with infinite degrees of freedom: P(range of n standard normals &lt; q) = n
 * times the integral of phi(z) [Phi(z) - Phi(z - q)]^(n-1) dz. Source: Harter, Tables of Range and
 * Studentized Range, Ann. Math. Statist. 31 (1960) 1122 (from memory); held against R's qtukey.
 */
final class StudentizedRange {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  private StudentizedRange() {}

  /** The 95 % quantile for n values, n from 2. */
  static double q95(int n) {
    double low = 0;
    double high = 20;
    for (int i = 0; i < 60; i++) {
      double q = (low + high) / 2;
      if (probability(q, n) < 0.95) {
        low = q;
      } else {
        high = q;
      }
    }
    return (low + high) / 2;
  }

  private static double probability(double q, int n) {
    IterativeLegendreGaussIntegrator integrator =
        new IterativeLegendreGaussIntegrator(16, 1e-10, 1e-12);
    return n
        * integrator.integrate(
            1_000_000,
            z ->
                NORMAL.density(z)
                    * Math.pow(
                        NORMAL.cumulativeProbability(z) - NORMAL.cumulativeProbability(z - q),
                        n - 1),
            -8,
            8);
  }
}
