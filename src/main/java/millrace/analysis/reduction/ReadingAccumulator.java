// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

/**
 * Adds readings up one by one, so that a long record need not be held in memory. Sums are taken
 * about the first reading, which loses no digits where the scatter is small beside the value (Chan,
 * Golub and LeVeque, The American Statistician 37 (1983) 242, from memory). One thread at a time.
 */
public final class ReadingAccumulator {
  private long n;
  private double first;
  private double last;
  private double sum;
  private double squares;
  private double products;

  /**
   * Adds a reading.
   *
   * @param reading finite
   */
  public void add(double reading) {
    if (!Double.isFinite(reading)) {
      throw new IllegalArgumentException("a reading is finite, found " + reading);
    }
    if (n == 0) {
      first = reading;
    }
    double x = reading - first;
    products += n > 0 ? x * last : 0;
    sum += x;
    squares += x * x;
    last = x;
    n++;
  }

  /**
   * What was added so far.
   *
   * @return the statistics (methods.md 2.1)
   * @throws IllegalArgumentException if nothing was added
   */
  public ReadingStatistics statistics() {
    double m = n == 0 ? 0 : sum / n;
    double sumOfSquares = Math.max(0, squares - sum * m);
    // Sum of (x_i - m)(x_i+1 - m), the first x being 0 by the shift.
    double lagged = n < 2 ? 0 : products - m * (2 * sum - last) + (n - 1) * m * m;
    return new ReadingStatistics(n, first + m, sumOfSquares, lagged);
  }

  /**
   * The statistics of readings at hand.
   *
   * @param readings in the order of time, finite, at least one
   * @return their statistics
   */
  public static ReadingStatistics statisticsOf(double... readings) {
    ReadingAccumulator tally = new ReadingAccumulator();
    for (double reading : readings) {
      tally.add(reading);
    }
    return tally.statistics();
  }
}
