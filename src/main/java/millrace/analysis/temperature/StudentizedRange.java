// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.stream.IntStream;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * The studentized range with infinite degrees of freedom: P(range of n standard normals &lt; q) = n
 * times the integral of phi(z) [Phi(z) - Phi(z - q)]^(n-1) dz. Source: Harter, Tables of Range and
 * Studentized Range, Ann. Math. Statist. 31 (1960) 1122 (from memory); held against R's qtukey. The
 * integrand is smooth and dies at both ends, where the trapezoidal rule converges exponentially.
 */
final class StudentizedRange {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
  private static final double STEP = 0.1;
  private static final int STEPS_EACH_SIDE = 85;

  private StudentizedRange() {}

  /** What a usual night asks for, computed once: trials ask twenty thousand times. */
  private static final class Usual {
    private static final double[] Q95 = IntStream.range(0, 17).mapToDouble(Usual::orNone).toArray();

    private static double orNone(int n) {
      return n < 2 ? 0 : solved(n);
    }
  }

  /** The 95 % quantile for n values, n from 2. */
  static double q95(int n) {
    return n < Usual.Q95.length ? Usual.Q95[n] : solved(n);
  }

  private static double solved(int n) {
    return new BrentSolver(1e-12, 1e-10).solve(200, q -> probability(q, n) - 0.95, 0.1, 20);
  }

  private static double probability(double q, int n) {
    double sum = 0;
    for (int i = -STEPS_EACH_SIDE; i <= STEPS_EACH_SIDE; i++) {
      double z = i * STEP;
      sum += NORMAL.density(z) * Math.pow(NORMAL.probability(z - q, z), n - 1);
    }
    return n * STEP * sum;
  }
}
