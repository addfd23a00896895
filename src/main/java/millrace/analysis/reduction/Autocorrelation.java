// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.List;

/**
 * Lag-1 autocorrelation pooled over points, without the bias that the subtracted means bring: the
 * observed ratio of the pooled sums is set equal to the ratio of their expectations under an
 * autoregressive process of first order (expectations after Kendall, Biometrika 41 (1954) 403, from
 * memory; written out here), methods.md 2.1.
 */
final class Autocorrelation {
  /** Fewer readings do not tell a correlation from chance. */
  static final long LEAST_READINGS = 100;

  private static final double MOST = 0.99;

  private Autocorrelation() {}

  /** The coefficient, 0 to 0.99; negative counts as 0. */
  static double pooled(List<ReadingStatistics> points) {
    double squares = 0;
    double lagged = 0;
    for (ReadingStatistics p : points) {
      squares += p.sumOfSquares();
      lagged += p.laggedSum();
    }
    if (!(squares > 0)) {
      return 0;
    }
    double observed = lagged / squares;
    if (observed <= expectedRatio(points, 0)) {
      return 0;
    }
    double low = 0;
    double high = MOST;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (expectedRatio(points, middle) < observed) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  }

  private static double expectedRatio(List<ReadingStatistics> points, double r) {
    double squares = 0;
    double lagged = 0;
    for (ReadingStatistics p : points) {
      double n = p.n();
      double d = factor(n, r);
      squares += n - d;
      double first = (1 - Math.pow(r, n)) / (n * (1 - r));
      lagged += (n - 1) * r - 2 * d + 2 * first + (n - 1) * d / n;
    }
    return squares > 0 ? lagged / squares : 0;
  }

  /**
   * D = 1 + 2 sum_{k=1}^{n-1} (1 - k/n) r^k, summed in closed form: by which factor the variance of
   * a mean of n correlated readings exceeds s^2/n (methods.md 2.1).
   */
  static double factor(double n, double r) {
    if (r == 0 || n < 2) {
      return 1;
    }
    double geometric = (r - Math.pow(r, n)) / (1 - r);
    double weighted =
        r * (1 - n * Math.pow(r, n - 1) + (n - 1) * Math.pow(r, n)) / ((1 - r) * (1 - r));
    return 1 + 2 * (geometric - weighted / n);
  }
}
