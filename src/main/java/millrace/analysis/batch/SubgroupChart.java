// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.List;
import java.util.stream.IntStream;

/**
 * Chart of means and ranges of subgroups (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.1;
 * factors as in ISO 7870-2; methods.md 8).
 *
 * @param grandMean mean of the means
 * @param meanRange mean of the ranges
 * @param means limits of means
 * @param ranges limits of ranges
 * @param sigma mean range over d2: the standard deviation within subgroups
 */
public record SubgroupChart(
    double grandMean, double meanRange, Interval means, Interval ranges, double sigma) {
  /** Mean of the range of n = 2, 3 ... normal values, in standard deviations. */
  private static final double[] D2 = {
    1.128379167, 1.692568751, 2.058750746, 2.325928947, 2.534412721, 2.704356751, 2.847200612,
    2.970026324, 3.077505462, 3.172872704, 3.25845528, 3.335980354, 3.406763108, 3.47182689,
    3.531982786, 3.587883962, 3.640063758, 3.688963023, 3.73495012, 3.77833583, 3.819384643,
    3.858323423, 3.895348148, 3.93062922
  };

  /** Standard deviation of that range. */
  private static final double[] D3 = {
    0.8525024664,
    0.888368004,
    0.8798082028,
    0.8640819411,
    0.8480396861,
    0.8332053356,
    0.8198314898,
    0.8078342746,
    0.7970506735,
    0.7873146206,
    0.7784783412,
    0.7704162021,
    0.7630230956,
    0.7562114297,
    0.7499080894,
    0.744051784,
    0.7385908534,
    0.7334814955,
    0.7286863457,
    0.7241733407,
    0.7199148084,
    0.7158867355,
    0.7120681752,
    0.7084407659
  };

  /**
   * The chart of subgroups.
   *
   * @param subgroups at least one, each of the same 2 to 25 values
   * @return the chart
   * @throws IllegalArgumentException if subgroups are missing or differ in size
   */
  public static SubgroupChart of(List<double[]> subgroups) {
    int n = subgroups.isEmpty() ? 0 : subgroups.get(0).length;
    if (n < 2 || n > 25 || subgroups.stream().anyMatch(s -> s.length != n)) {
      throw new IllegalArgumentException(
          "%s subgroups, the first of %s values; expected at least one, each of the same 2 to 25"
              .formatted(subgroups.size(), n));
    }
    List<Spread> spreads = subgroups.stream().map(Spread::of).toList();
    double grand = spreads.stream().mapToDouble(Spread::mean).average().orElseThrow();
    double range =
        spreads.stream().mapToDouble(s -> s.largest() - s.least()).average().orElseThrow();
    double sigma = range / d2(n);
    double three = 3 * sigma / Math.sqrt(n);
    double spread = 3 * sigma * D3[n - 2];
    return new SubgroupChart(
        grand,
        range,
        new Interval(grand - three, grand + three),
        new Interval(Math.max(0, range - spread), range + spread),
        sigma);
  }

  static double d2(int n) {
    return D2[n - 2];
  }

  static double d3(int n) {
    return D3[n - 2];
  }

  /**
   * Which subgroups have a mean or a range beyond the limits.
   *
   * @param subgroups those of the chart, or later ones of the same size
   * @return their places, from 0
   */
  public List<Integer> outside(List<double[]> subgroups) {
    return IntStream.range(0, subgroups.size())
        .filter(i -> beyond(Spread.of(subgroups.get(i))))
        .boxed()
        .toList();
  }

  private boolean beyond(Spread s) {
    return !means.contains(s.mean()) || !ranges.contains(s.largest() - s.least());
  }
}
