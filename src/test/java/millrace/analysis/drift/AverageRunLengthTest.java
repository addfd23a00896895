// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AverageRunLengthTest {
  /**
   * Two-sided cumulative sums with k = 0.5: NIST/SEMATECH e-Handbook of Statistical Methods,
   * 6.3.2.3, after Lucas and Crosier, Technometrics 24 (1982) 199; from memory, three digits as
   * printed.
   */
  @ParameterizedTest
  @CsvSource({
    "4, 0, 168", "4, 0.25, 74.2", "4, 0.5, 26.6", "4, 0.75, 13.3", "4, 1, 8.38", "4, 1.5, 4.75",
    "4, 2, 3.34", "4, 2.5, 2.62", "4, 3, 2.19", "4, 4, 1.71", "5, 0, 465", "5, 0.25, 139",
    "5, 0.5, 38.0", "5, 0.75, 17.0", "5, 1, 10.4", "5, 1.5, 5.75", "5, 2, 4.01", "5, 2.5, 3.11",
    "5, 3, 2.57", "5, 4, 2.01"
  })
  void agreesWithThePublishedTableOfCumulativeSums(double h, double shift, double published) {
    assertEquals(published, AverageRunLength.ofCusum(0.5, h, shift), 0.006 * published);
  }

  /**
   * Moving averages with an average run length of 500 without a shift: Lucas and Saccucci,
   * Technometrics 32 (1990) 1, as reprinted in textbooks; from memory, three digits as printed.
   */
  @ParameterizedTest
  @CsvSource({
    "0.40, 3.054, 0, 500",
    "0.40, 3.054, 0.5, 71.2",
    "0.40, 3.054, 1, 14.3",
    "0.40, 3.054, 2, 3.5",
    "0.20, 2.962, 0, 500",
    "0.20, 2.962, 0.25, 150",
    "0.20, 2.962, 0.5, 41.8",
    "0.20, 2.962, 0.75, 18.2",
    "0.20, 2.962, 1, 10.5",
    "0.20, 2.962, 1.5, 5.5",
    "0.20, 2.962, 2, 3.7",
    "0.20, 2.962, 3, 2.4",
    "0.10, 2.814, 0, 500",
    "0.10, 2.814, 0.5, 31.3",
    "0.10, 2.814, 1, 10.3",
    "0.10, 2.814, 2, 4.4"
  })
  void agreesWithThePublishedTableOfMovingAverages(
      double lambda, double factor, double shift, double published) {
    assertEquals(
        published,
        AverageRunLength.ofMovingAverage(lambda, factor, shift),
        Math.max(0.06, 0.006 * published));
  }

  /** A chart of single values is a moving average with all weight on the newest. */
  @Test
  void ofSingleValuesIsThatOfTheNormalDistribution() {
    assertEquals(370.4, AverageRunLength.ofMovingAverage(1, 3, 0), 0.1);
  }

  @ParameterizedTest
  @CsvSource({"168", "465", "20000", "1e6"})
  void findsTheLimitForAWantedRunLength(double falsely) {
    double h = AverageRunLength.cusumLimit(0.5, falsely);
    assertEquals(falsely, AverageRunLength.ofCusum(0.5, h, 0), 1e-4 * falsely);
    double factor = AverageRunLength.movingAverageFactor(0.2, falsely);
    assertEquals(falsely, AverageRunLength.ofMovingAverage(0.2, factor, 0), 1e-4 * falsely);
  }
}
