// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.List;
import java.util.stream.IntStream;

/**
 * Chart of individuals and moving ranges (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2;
 * methods.md 8): limits are 3 sigma about the mean, sigma the mean moving range over d2 of 2.
 *
 * @param centre the mean
 * @param meanRange the mean moving range
 * @param limits of individuals
 * @param rangeLimit upper limit of moving ranges; the lower is 0
 * @param signals individuals that do not look like chance, by their places from 0
 * @param rangesOutside places of values whose range to the one before is beyond
 */
public record IndividualsChart(
    double centre,
    double meanRange,
    Interval limits,
    double rangeLimit,
    List<ChartSignal> signals,
    List<Integer> rangesOutside) {
  /** Mean range of two normal values, in standard deviations: 2/sqrt(pi). */
  private static final double D2 = 2 / Math.sqrt(Math.PI);

  /** Copies the lists. */
  public IndividualsChart {
    signals = List.copyOf(signals);
    rangesOutside = List.copyOf(rangesOutside);
  }

  /**
   * The chart of values.
   *
   * @param values in the order of time; at least two
   * @return the chart
   * @throws IllegalArgumentException with fewer than two values
   */
  public static IndividualsChart of(double[] values) {
    int n = values.length;
    if (n < 2) {
      throw new IllegalArgumentException("%s values; a moving range needs two".formatted(n));
    }
    double centre = BatchMeanAndSpread.of(values).mean();
    double meanRange = meanRange(values);
    double three = 3 * meanRange / D2;
    Interval limits = new Interval(centre - three, centre + three);
    // D4 = 1 + 3 d3/d2, with d3^2 = 2 - d2^2 for the range of two.
    double rangeLimit = meanRange * (1 + 3 * Math.sqrt(2 - D2 * D2) / D2);
    return new IndividualsChart(
        centre,
        meanRange,
        limits,
        rangeLimit,
        ChartSignal.in(values, centre, meanRange / D2),
        IntStream.range(1, n).filter(i -> range(values, i) > rangeLimit).boxed().toList());
  }

  private static double range(double[] values, int i) {
    return Math.abs(values[i] - values[i - 1]);
  }

  private static double meanRange(double[] values) {
    return IntStream.range(1, values.length).mapToDouble(i -> range(values, i)).average().orElse(0);
  }

  /** The {@link #sigma()} of values without their chart, at least two. */
  static double sigma(double[] values) {
    return meanRange(values) / D2;
  }

  /**
   * The standard deviation from unit to unit.
   *
   * @return mean moving range over d2, in the unit of the values
   */
  public double sigma() {
    return meanRange / D2;
  }
}
