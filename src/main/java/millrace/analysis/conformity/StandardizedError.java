// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/** The distribution of an error divided by its standard uncertainty. Stateless, thread-safe. */
public final class StandardizedError {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /** From here on Student's distribution is the normal one in every digit that counts. */
  private static final double AS_GOOD_AS_INFINITE = 1e6;

  private StandardizedError() {}

  /**
   * The probability that it lies below a number: normal, or Student's distribution where the
   * uncertainty has finite degrees of freedom (JCGM 100:2008, G.3.2; JCGM 106:2012, 7; methods.md
   * 7.1).
   *
   * @param z the number, a multiple of the standard uncertainty
   * @param degreesOfFreedom of the uncertainty, above 0, less than 1 counting as 1; empty for
   *     infinite
   * @return 0 to 1
   */
  public static double below(double z, OptionalDouble degreesOfFreedom) {
    double nu = degreesOfFreedom.orElse(Double.POSITIVE_INFINITY);
    return nu > AS_GOOD_AS_INFINITE
        ? NORMAL.cumulativeProbability(z)
        : new TDistribution(null, Math.max(1, nu)).cumulativeProbability(z);
  }
}
