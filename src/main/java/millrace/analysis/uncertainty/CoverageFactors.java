// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;

/** Coverage factors and intervals (JCGM 100:2008, annex G; JCGM 101:2008, 9.2.4). */
public final class CoverageFactors {
  /** The coverage that counts unless a datasheet asks otherwise (methods.md, head). */
  public static final double USUAL = 0.9545;

  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  private CoverageFactors() {}

  /**
   * Student's t for a two-sided interval at the whole part of the degrees of freedom (JCGM
   * 100:2008, G.6.4; methods.md 2.4).
   *
   * @param probability of the interval, above 0 and below 1
   * @param degreesOfFreedom 1 or more; empty for infinite
   * @return k
   */
  public static double factor(double probability, OptionalDouble degreesOfFreedom) {
    double p = (1 + probability) / 2;
    if (degreesOfFreedom.isEmpty() || degreesOfFreedom.getAsDouble() > 1e6) {
      return Quantiles.normal(p);
    }
    double whole = Math.max(1, Math.floor(degreesOfFreedom.getAsDouble() + 1e-9));
    return Quantiles.studentT(p, whole);
  }

  /**
   * Half-width of the shortest interval of a rectangular plus a normal error, which is symmetric
   * (JCGM 101:2008, 9.2.4; methods.md 2.4). P(|x| &lt; w) = [g(w + a) - g(w - a)]/a - 1 with g(z) =
   * z Phi(z/s) + s phi(z/s), a the half-width of the rectangle, s the standard deviation of the
   * normal error.
   *
   * @param rectangularU standard uncertainty of the rectangular error, above 0
   * @param normalU standard deviation of the normal error, 0 or more
   * @param probability of the interval, above 0 and below 1
   * @return w
   */
  public static double rectangularAndNormal(
      double rectangularU, double normalU, double probability) {
    double a = rectangularU * Math.sqrt(3);
    if (normalU < 1e-9 * a) {
      return probability * a;
    }
    double low = 0;
    double high = a + 10 * normalU;
    for (int i = 0; i < 200; i++) {
      double w = (low + high) / 2;
      double inside = (g(w + a, normalU) - g(w - a, normalU)) / a - 1;
      if (inside < probability) {
        low = w;
      } else {
        high = w;
      }
    }
    return (low + high) / 2;
  }

  private static double g(double z, double s) {
    return z * NORMAL.cumulativeProbability(z / s) + s * NORMAL.density(z / s);
  }
}
