// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.Arrays;
import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;

/**
 * Mean and scatter of one quantity over a batch (NIST/SEMATECH e-Handbook of Statistical Methods,
 * 1.3.5.1, 1.3.5.2; methods.md 8).
 *
 * @param n how many values
 * @param mean their mean
 * @param sd their standard deviation, n - 1 in the divisor; 0 for one value, see {@link #scatter}
 * @param median their median
 * @param least the least
 * @param largest the largest
 */
public record BatchMeanAndSpread(
    int n, double mean, double sd, double median, double least, double largest) {

  /**
   * The spread of values.
   *
   * @param values finite; at least one
   * @return their spread
   * @throws IllegalArgumentException without values, or if one is not finite
   */
  public static BatchMeanAndSpread of(double[] values) {
    int n = values.length;
    if (n == 0 || !Arrays.stream(values).allMatch(Double::isFinite)) {
      throw new IllegalArgumentException(
          "%s values; expected at least one, all finite".formatted(n));
    }
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double mean = mean(values);
    return new BatchMeanAndSpread(
        n,
        mean,
        sd(values, mean),
        (sorted[(n - 1) / 2] + sorted[n / 2]) / 2,
        sorted[0],
        sorted[n - 1]);
  }

  /** The mean of at least one value. */
  static double mean(double[] values) {
    return mean(values, values.length);
  }

  /** The mean of the first values of an array. */
  static double mean(double[] values, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += values[i];
    }
    double rough = sum / n;
    double rest = 0;
    for (int i = 0; i < n; i++) {
      rest += values[i] - rough;
    }
    return rough + rest / n;
  }

  /** The standard deviation from their mean, with divisor n - 1; 0 for a single value. */
  static double sd(double[] values, double mean) {
    return sd(values, values.length, mean);
  }

  /** The same of the first values of an array. */
  static double sd(double[] values, int n, double mean) {
    double squares = 0;
    double away = 0;
    for (int i = 0; i < n; i++) {
      double from = values[i] - mean;
      squares += from * from;
      away += from;
    }
    // What is left of the rounding of the mean (Chan, Golub and LeVeque, Am. Stat. 37 (1983) 242).
    return n > 1 ? Math.sqrt(Math.max(0, squares - away * away / n) / (n - 1)) : 0;
  }

  /**
   * The sample standard deviation, where it is defined.
   *
   * @return with divisor n - 1; empty for a single value
   */
  public OptionalDouble scatter() {
    return n > 1 ? OptionalDouble.of(sd) : OptionalDouble.empty();
  }

  /**
   * Confidence interval of the standard deviation, by chi squared.
   *
   * @param coverage probability, above 0 and below 1
   * @return its ends; both 0 for one value
   */
  public Interval sdInterval(double coverage) {
    return n < 2 ? new Interval(0, 0) : ratio(n - 1, coverage).times(sd);
  }

  /** Factors from a standard deviation with nu degrees of freedom to the ends of its interval. */
  static Interval ratio(double nu, double coverage) {
    ChiSquaredDistribution chi = new ChiSquaredDistribution(null, nu);
    return new Interval(
        Math.sqrt(nu / chi.inverseCumulativeProbability((1 + coverage) / 2)),
        Math.sqrt(nu / chi.inverseCumulativeProbability((1 - coverage) / 2)));
  }

  /**
   * Reproducibility of the set-up from reconnecting one unit (methods.md 2.6): the standard
   * deviation of one connection.
   *
   * @return true with at least the ten connections that 2.6 asks for
   */
  public boolean enoughForReproducibility() {
    return n >= 10;
  }
}
