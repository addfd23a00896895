// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import org.apache.commons.math3.distribution.TDistribution;

/**
 * Whether the means of two batches differ, variances not assumed equal (Welch, Biometrika 34 (1947)
 * 28; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3; methods.md 8).
 *
 * @param difference mean of the first less mean of the second
 * @param interval of the difference
 * @param t the difference over its standard uncertainty
 * @param degreesOfFreedom by Welch and Satterthwaite
 * @param probability p-value of the difference
 */
public record TwoBatches(
    double difference, Interval interval, double t, double degreesOfFreedom, double probability) {

  /**
   * Compares.
   *
   * @param first values of one batch, at least 2
   * @param second values of the other, at least 2
   * @param coverage probability of the interval
   * @return the comparison
   * @throws IllegalArgumentException for fewer values, or if neither batch scatters
   */
  public static TwoBatches of(double[] first, double[] second, double coverage) {
    BatchMeanAndSpread a = BatchMeanAndSpread.of(first);
    BatchMeanAndSpread b = BatchMeanAndSpread.of(second);
    double ua = a.sd() * a.sd() / a.n();
    double ub = b.sd() * b.sd() / b.n();
    if (a.n() < 2 || b.n() < 2 || ua + ub == 0) {
      throw new IllegalArgumentException(
          "%s and %s values with scatters %s and %s; expected at least 2 of each that differ"
              .formatted(a.n(), b.n(), a.sd(), b.sd()));
    }
    double u = Math.sqrt(ua + ub);
    double nu = (ua + ub) * (ua + ub) / (ua * ua / (a.n() - 1) + ub * ub / (b.n() - 1));
    TDistribution student = new TDistribution(null, nu);
    double difference = a.mean() - b.mean();
    double half = student.inverseCumulativeProbability((1 + coverage) / 2) * u;
    double t = difference / u;
    return new TwoBatches(
        difference,
        new Interval(difference - half, difference + half),
        t,
        nu,
        2 * student.cumulativeProbability(-Math.abs(t)));
  }
}
