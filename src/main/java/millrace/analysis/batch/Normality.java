// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.Arrays;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Anderson-Darling test of normality, mean and standard deviation estimated (D'Agostino and
 * Stephens, Goodness-of-Fit Techniques, 1986, table 4.9, from memory; NIST/SEMATECH e-Handbook of
 * Statistical Methods, 1.3.5.14; methods.md 8).
 *
 * @param squaredA the statistic A squared, before its correction for n
 * @param probability p-value: that normal values depart at least as far from normality as these
 */
public record Normality(double squaredA, double probability) {
  /** Below this probability values count as not normal. */
  public static final double LEAST = 0.05;

  private static final int FEWEST = 8;
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /**
   * Tests values.
   *
   * @param values finite; at least 8, not all alike
   * @return the test
   * @throws IllegalArgumentException for fewer values, or if all are alike
   */
  public static Normality of(double[] values) {
    BatchMeanAndSpread spread = BatchMeanAndSpread.of(values);
    int n = values.length;
    if (n < FEWEST || spread.sd() == 0) {
      throw new IllegalArgumentException(
          "%s values with a standard deviation of %s; expected at least %s that differ"
              .formatted(n, spread.sd(), FEWEST));
    }
    double[] z =
        Arrays.stream(values).map(v -> (v - spread.mean()) / spread.sd()).sorted().toArray();
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += (2 * i + 1) * (logBelow(z[i]) + logBelow(-z[n - 1 - i]));
    }
    double squared = -n - sum / n;
    double corrected = squared * (1 + 0.75 / n + 2.25 / ((double) n * n));
    return new Normality(squared, probability(corrected));
  }

  private static double logBelow(double z) {
    return Math.log(Math.max(Double.MIN_NORMAL, NORMAL.cumulativeProbability(z)));
  }

  private static double probability(double a) {
    if (a < 0.2) {
      return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
    } else if (a < 0.34) {
      return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
    } else if (a < 0.6) {
      return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
    }
    return a < 13 ? Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a) : 0;
  }

  /**
   * Tells whether figures that assume normality may be used.
   *
   * @return true if the probability is at least 5 %
   */
  public boolean plausible() {
    return probability >= LEAST;
  }
}
