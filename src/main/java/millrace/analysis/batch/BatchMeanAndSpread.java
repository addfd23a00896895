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
    double rough = Arrays.stream(values).sum() / values.length;
    return rough + Arrays.stream(values).map(v -> v - rough).sum() / values.length;
  }

  /** The standard deviation from their mean, with divisor n - 1; 0 for a single value. */
  static double sd(double[] values, double mean) {
    double squares = Arrays.stream(values).map(v -> (v - mean) * (v - mean)).sum();
    return values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0;
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
