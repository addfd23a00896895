// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import java.util.OptionalDouble;
import millrace.evidence.Limit;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * How likely a measurement accepts a unit, by what the unit is (JCGM 106:2012, 9.5; methods.md 12).
 * Pure; thread-safe.
 */
public final class AcceptanceProbability {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /** From so many degrees of freedom on, Student's t is normal. */
  private static final double MANY = 1e4;

  private AcceptanceProbability() {}

  /**
   * What is measured, and how it is accepted.
   *
   * @param limit what a unit must lie in
   * @param band by how much a measured value must lie inside it, in the unit of the limit; below 0
   *     where it may lie outside; infinite where nothing or everything is accepted
   */
  public record Accepted(Limit limit, double band) {}

  /**
   * The probability that a measured value is accepted, normal about the true one: Phi((T_U - w -
   * x)/u) - Phi((T_L + w - x)/u), 0 where that is negative.
   *
   * @param accepted the limits T_L and T_U, either may be open, and the band w
   * @param value x, what the unit is, in the unit of the limit
   * @param standardUncertainty u of the measurement, 0 or more
   * @return 0 to 1
   */
  public static double of(Accepted accepted, double value, double standardUncertainty) {
    Limit limit = accepted.limit();
    double above =
        limit.upper().isPresent()
            ? cumulative(limit.upper().getAsDouble() - accepted.band() - value, standardUncertainty)
            : 1;
    double below =
        limit.lower().isPresent()
            ? 1
                - cumulative(
                    value - limit.lower().getAsDouble() - accepted.band(), standardUncertainty)
            : 0;
    return Math.max(0, above - below);
  }

  private static double cumulative(double distance, double u) {
    if (Double.isInfinite(distance) || u == 0) {
      return distance >= 0 ? 1 : 0;
    }
    return NORMAL.cumulativeProbability(distance / u);
  }

  /**
   * How many standard uncertainties a value has to lie inside a limit for the quantity to lie
   * outside with no more than a risk (JCGM 106:2012, 9.3): the quantile of the normal distribution,
   * or of Student's t where the degrees of freedom are few.
   *
   * @param risk above 0 and below 0.5
   * @param degreesOfFreedom of the uncertainty; empty for infinitely many
   * @return above 0
   */
  public static double factor(double risk, OptionalDouble degreesOfFreedom) {
    return degreesOfFreedom.isEmpty() || degreesOfFreedom.getAsDouble() > MANY
        ? NORMAL.inverseCumulativeProbability(1 - risk)
        : new TDistribution(null, Math.max(1, degreesOfFreedom.getAsDouble()))
            .inverseCumulativeProbability(1 - risk);
  }
}
