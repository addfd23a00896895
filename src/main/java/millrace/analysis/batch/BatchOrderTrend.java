// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.Arrays;
import java.util.Map;
import java.util.TreeMap;
import millrace.analysis.reduction.SampleMedian;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.util.KthSelector;

/**
 * Drift of values in their order of arrival: the Theil-Sen slope with its interval (Sen, J. Amer.
 * Statist. Assoc. 63 (1968) 1379), and the Mann-Kendall test (Kendall, Rank Correlation Methods,
 * 4th edition, 1975, both from memory; methods.md 8). Both use ranks, so a few outlying units
 * neither create nor hide a drift.
 *
 * @param n how many values
 * @param change from the first place to the last, in the unit of the values: the slope times the
 *     distance
 * @param interval of the change
 * @param probability of at least so clear a trend if there is no drift (p-value)
 */
public record BatchOrderTrend(int n, double change, Interval interval, double probability) {
  /** Least number of values: the test approximates the rank statistic as normal. */
  public static final int FEWEST = 10;

  /** Longer series are reduced to medians of groups, to limit the number of slopes. */
  private static final int MOST = 600;

  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /**
   * The trend of values.
   *
   * @param at position of each value, such as its number in time order; strictly increasing
   * @param values finite, as many as positions
   * @param coverage probability of the interval, above 0 and below 1
   * @return the trend from the first place to the last
   * @throws IllegalArgumentException for fewer than {@link #FEWEST} values, or positions that do
   *     not increase
   */
  public static BatchOrderTrend of(double[] at, double[] values, double coverage) {
    int n = values.length;
    if (n < FEWEST || at.length != n) {
      throw new IllegalArgumentException(
          "%s values at %s places; expected at least %s of each".formatted(n, at.length, FEWEST));
    }
    for (int i = 1; i < n; i++) {
      if (!(at[i] > at[i - 1])) {
        throw new IllegalArgumentException(
            "place %s behind %s; expected one that is larger".formatted(at[i], at[i - 1]));
      }
    }
    int together = (n + MOST - 1) / MOST;
    double[] x = medians(at, together);
    double[] y = medians(values, together);
    Ranked slopes = new Ranked(slopes(x, y));
    double sd = Math.sqrt(variance(y));
    double way = at[n - 1] - at[0];
    double reach = NORMAL.inverseCumulativeProbability((1 + coverage) / 2) * sd;
    return new BatchOrderTrend(
        n,
        slopes.at((slopes.count() + 1) / 2.0) * way,
        ends(slopes, reach, way),
        probability(score(y), sd));
  }

  private static double[] medians(double[] values, int together) {
    if (together == 1) {
      return values.clone();
    }
    double[] medians = new double[values.length / together];
    for (int i = 0; i < medians.length; i++) {
      medians[i] = SampleMedian.of(Arrays.copyOfRange(values, i * together, (i + 1) * together));
    }
    return medians;
  }

  /** All slopes between two places. */
  private static double[] slopes(double[] x, double[] y) {
    double[] slopes = new double[x.length * (x.length - 1) / 2];
    int k = 0;
    for (int i = 0; i < x.length; i++) {
      for (int j = i + 1; j < x.length; j++) {
        slopes[k++] = (y[j] - y[i]) / (x[j] - x[i]);
      }
    }
    return slopes;
  }

  /**
   * The slopes of ranks (N - reach)/2 and (N + reach)/2 + 1, counted from 1, interpolated linearly.
   */
  private static Interval ends(Ranked slopes, double reach, double way) {
    double low = (slopes.count() - reach) / 2;
    double high = (slopes.count() + reach) / 2 + 1;
    return new Interval(slopes.at(low) * way, slopes.at(high) * way);
  }

  /** Values of which a few are wanted by their rank, which needs no order of the others. */
  private static final class Ranked {
    /** Pivots that are kept, so that a later rank is found from where an earlier one led. */
    private static final int PIVOTS = 1 << 10;

    private final double[] values;
    private final int[] pivots = new int[PIVOTS];
    private final KthSelector selector = new KthSelector();

    Ranked(double[] values) {
      this.values = values;
      Arrays.fill(pivots, -1);
    }

    int count() {
      return values.length;
    }

    /** The value at a rank from 1, between two ranks linearly; the ends hold beyond them. */
    double at(double rank) {
      double inside = Math.min(values.length, Math.max(1, rank)) - 1;
      int below = (int) inside;
      double low = selector.select(values, pivots, below);
      double high = selector.select(values, pivots, Math.min(values.length - 1, below + 1));
      return low + (inside - below) * (high - low);
    }
  }

  /** S: the number of rising pairs less that of falling ones. */
  private static double score(double[] y) {
    double score = 0;
    for (int i = 0; i < y.length; i++) {
      for (int j = i + 1; j < y.length; j++) {
        score += Math.signum(y[j] - y[i]);
      }
    }
    return score;
  }

  /**
   * Variance of S without a drift: (n (n - 1) (2 n + 5) - sum over ties of t (t - 1) (2 t + 5))/18.
   */
  private static double variance(double[] y) {
    Map<Double, Integer> ties = new TreeMap<>();
    Arrays.stream(y).forEach(v -> ties.merge(v, 1, Integer::sum));
    double sum =
        weight(y.length) - ties.values().stream().mapToDouble(BatchOrderTrend::weight).sum();
    return Math.max(0, sum / 18);
  }

  private static double weight(int n) {
    return (double) n * (n - 1) * (2.0 * n + 5);
  }

  /** Two-sided p-value, with continuity correction. */
  private static double probability(double score, double sd) {
    double beyond = Math.max(0, Math.abs(score) - 1);
    return sd == 0 ? 1 : Math.min(1, 2 * NORMAL.cumulativeProbability(-beyond / sd));
  }
}
