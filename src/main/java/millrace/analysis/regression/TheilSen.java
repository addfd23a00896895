// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Arrays;
import millrace.analysis.reduction.SampleMedian;
import millrace.analysis.uncertainty.Quantiles;

/**
 * The median of the slopes between all pairs of points, which a few wild points do not move, with
 * its distribution-free interval. Sources: Theil, Indagationes Mathematicae 12 (1950) 85; Sen, J.
 * Am. Statist. Assoc. 63 (1968) 1379, equation 2.6 for the variance with ties; methods.md 5.9 and
 * 6.3. Memory and time grow as n squared: 5,000 points need 100 MB.
 *
 * @param slope median slope, y per x
 * @param intercept median of y less slope times median of x
 * @param low lower end of the interval of the slope
 * @param high upper end of the interval of the slope
 * @param pairs of points with different x
 */
public record TheilSen(double slope, double intercept, double low, double high, int pairs) {
  /** The most points that are taken. */
  public static final int MOST = 5000;

  /**
   * Fits.
   *
   * @param x finite; at least two different
   * @param y finite, as long as x
   * @param coverage probability of the interval, above 0 and below 1
   * @return the fit; with few points the interval ends at the least and largest slope, and is then
   *     narrower than asked
   * @throws IllegalArgumentException if lengths differ, all x are equal or there are more than
   *     {@link #MOST} points
   */
  public static TheilSen of(double[] x, double[] y, double coverage) {
    return of(x, y, coverage, 1);
  }

  /**
   * Fits where successive errors are alike.
   *
   * @param x finite; at least two different
   * @param y finite, as long as x
   * @param coverage probability of the interval, above 0 and below 1
   * @param inflation by which factor correlation widens the standard deviation of the rank
   *     statistic, 1 or more (Hamed and Rao, J. Hydrology 204 (1998) 182, from memory)
   * @return the fit
   * @throws IllegalArgumentException as the shorter form
   */
  public static TheilSen of(double[] x, double[] y, double coverage, double inflation) {
    if (x.length != y.length || x.length > MOST) {
      throw new IllegalArgumentException(
          "%s x and %s y; expected as many of both, at most %s"
              .formatted(x.length, y.length, MOST));
    }
    PairSlopes slopes = new PairSlopes(x, y);
    int n = slopes.count();
    if (n == 0) {
      throw new IllegalArgumentException("no two points differ in x");
    }
    double z = Quantiles.normal((1 + coverage) / 2);
    double reach = z * inflation * Math.sqrt(variance(x, y));
    int lower = (int) Math.rint((n - reach) / 2) - 1;
    int upper = (int) Math.rint((n + reach) / 2);
    double[] found = slopes.ofRanks((n - 1) / 2, n / 2, Math.max(lower, 0), Math.min(upper, n - 1));
    double slope = found[0] == found[1] ? found[0] : (found[0] + found[1]) / 2;
    return new TheilSen(
        slope, SampleMedian.of(y) - slope * SampleMedian.of(x), found[2], found[3], n);
  }

  private static double variance(double[] x, double[] y) {
    return (term(x.length) - ties(x) - ties(y)) / 18;
  }

  private static double term(double k) {
    return k * (k - 1) * (2 * k + 5);
  }

  private static double ties(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double sum = 0;
    int run = 1;
    for (int i = 1; i <= sorted.length; i++) {
      if (i < sorted.length && sorted[i] == sorted[i - 1]) {
        run++;
      } else {
        sum += term(run);
        run = 1;
      }
    }
    return sum;
  }
}
