// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.List;

/**
 * What the readings of one point come to (methods.md 2.1).
 *
 * @param n how many readings, 1 or more
 * @param mean their mean
 * @param sumOfSquares of the deviations from the mean, 0 or more
 * @param laggedSum of the products of neighbouring deviations
 */
public record ReadingStatistics(long n, double mean, double sumOfSquares, double laggedSum) {

  /** Checks count and finiteness. */
  public ReadingStatistics {
    if (n < 1 || !Double.isFinite(mean) || !(sumOfSquares >= 0)) {
      throw new IllegalArgumentException(
          "%s readings of mean %s and sum of squares %s; expected 1 or more, finite, 0 or more"
              .formatted(n, mean, sumOfSquares));
    }
  }

  /**
   * Several readings at different times seen as one set (Chan, Golub and LeVeque, The American
   * Statistician 37 (1983) 242; methods.md 2.1). Neighbours count within each part only.
   *
   * @param parts at least one
   * @return the statistics of all their readings
   */
  public static ReadingStatistics together(List<ReadingStatistics> parts) {
    long n = 0;
    double sum = 0;
    double origin = parts.get(0).mean;
    for (ReadingStatistics p : parts) {
      n += p.n;
      sum += p.n * (p.mean - origin);
    }
    double mean = origin + sum / n;
    double squares = 0;
    double lagged = 0;
    for (ReadingStatistics p : parts) {
      squares += p.sumOfSquares + p.n * (p.mean - mean) * (p.mean - mean);
      lagged += p.laggedSum;
    }
    return new ReadingStatistics(n, mean, squares, lagged);
  }

  /**
   * Variance of a single reading (JCGM 100:2008, 4.2.2).
   *
   * @return s^2; 0 for a single reading
   */
  public double variance() {
    return n < 2 ? 0 : sumOfSquares / (n - 1);
  }
}
