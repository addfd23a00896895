// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import org.apache.commons.math3.distribution.BetaDistribution;

/**
 * A share of units with its exact interval (Clopper and Pearson, Biometrika 26 (1934) 404;
 * NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1; methods.md 8).
 *
 * @param count how many units are meant
 * @param of how many there are, 1 or more
 * @param interval of the share, from 0 to 1
 */
public record ProportionInterval(int count, int of, Interval interval) {
  private static final double ACCURACY = 1e-14;

  /**
   * The share of some among all.
   *
   * @param count from 0 to all
   * @param of all of them, 1 or more
   * @param coverage probability of the interval, above 0 and below 1
   * @return the share
   * @throws IllegalArgumentException if count is not from 0 to all, or there is none
   */
  public static ProportionInterval of(int count, int of, double coverage) {
    if (of < 1 || count < 0 || count > of) {
      throw new IllegalArgumentException(
          "%s of %s units; expected 0 to all of at least one".formatted(count, of));
    }
    double tail = (1 - coverage) / 2;
    double lower = count == 0 ? 0 : quantile(count, of - count + 1, tail);
    double upper = count == of ? 1 : quantile(count + 1, of - count, 1 - tail);
    return new ProportionInterval(count, of, new Interval(lower, upper));
  }

  private static double quantile(double a, double b, double p) {
    return new BetaDistribution(null, a, b, ACCURACY).inverseCumulativeProbability(p);
  }

  /**
   * The share itself.
   *
   * @return from 0 to 1
   */
  public double value() {
    return (double) count / of;
  }
}
