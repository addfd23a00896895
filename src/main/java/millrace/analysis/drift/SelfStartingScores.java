// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Scores of values by those before them: t = (x - mean) / (s sqrt(1 + 1/n)) of n earlier values,
 * which has Student's distribution with n - 1 degrees of freedom where nothing changes, as the
 * value of the standard normal distribution that is exceeded as often. The scores of a stable
 * normal process are independent and standard normal, although its mean and spread are unknown
 * (Hawkins, The Statistician 36 (1987) 299; Quesenberry, J. Quality Technol. 23 (1991) 213; both
 * from memory; methods.md 8.1). Not thread-safe.
 */
final class SelfStartingScores {
  /** Fewer earlier values give no spread. */
  private static final int FEWEST = 2;

  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /** Beyond this a score is no longer told apart from an endless one. */
  private static final double LARGEST = 8;

  private int n;
  private double mean;
  private double squares;

  /** Takes a value into mean and spread. */
  void learn(double value) {
    n++;
    double away = value - mean;
    mean += away / n;
    squares += away * (value - mean);
  }

  /**
   * The score of a value by those that were learnt.
   *
   * @param value finite
   * @return within -8 and 8; empty with fewer than two earlier values, or if they are all equal
   */
  OptionalDouble of(double value) {
    if (n < FEWEST || !(squares > 0)) {
      return OptionalDouble.empty();
    }
    double t = (value - mean) / (sd() * Math.sqrt(1 + 1.0 / n));
    double tail = new TDistribution(null, n - 1.0).cumulativeProbability(-Math.abs(t));
    double score = tail > 0 ? -NORMAL.inverseCumulativeProbability(tail) : LARGEST;
    return OptionalDouble.of(Math.copySign(Math.min(LARGEST, score), t));
  }

  /** The mean of what was learnt; 0 of nothing. */
  double mean() {
    return mean;
  }

  /** The standard deviation of what was learnt; 0 with fewer than two values. */
  double sd() {
    return n < FEWEST ? 0 : Math.sqrt(squares / (n - 1));
  }
}
