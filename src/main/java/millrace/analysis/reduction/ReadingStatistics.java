package millrace.analysis.reduction;

/**
 * What the readings of one point come to (measurement.md 2.1).
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
          "%d readings of mean %s and sum of squares %s; expected 1 or more, finite, 0 or more"
              .formatted(n, mean, sumOfSquares));
    }
  }

  /**
   * The statistics of readings at hand.
   *
   * @param readings in the order of time, finite, at least one
   * @return their statistics
   */
  public static ReadingStatistics of(double... readings) {
    ReadingTally tally = new ReadingTally();
    for (double reading : readings) {
      tally.add(reading);
    }
    return tally.statistics();
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
