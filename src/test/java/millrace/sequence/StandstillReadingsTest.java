// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import millrace.run.reading.StandstillDetector;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** How many readings settling takes, against a formula and against the runner's own rule. */
class StandstillReadingsTest {
  private static final int DRAWS = 20_000;

  /**
   * Of n independent readings all orders are equally likely, so that n of them rise or fall
   * throughout with probability 2/n!; the sum of that over n = 0, 1, 2, 3 ... with 1 for the first
   * three is 2e - 2 (elementary combinatorics). The grid takes half of two readings in one cell.
   */
  @Test
  void noiseAloneTurnsAfterTwoETimesLessTwo() {
    double found = StandstillReadings.expected(Double.POSITIVE_INFINITY, 0);
    assertEquals(2 * Math.E - 2, found, 0.02);
    assertEquals(2 * Math.E - 2, StandstillReadings.OF_NOISE_ALONE, 1e-12);
  }

  @Test
  void readingsThatDoNotScatterStandAtTheSecond() {
    assertEquals(2, StandstillReadings.expected(1000, 100), 1e-6);
  }

  /** Bands of half a standard deviation to ten; 2 % is three times what the draws scatter. */
  @ParameterizedTest
  @ValueSource(doubles = {0.5, 1, 1.7, 3, 10})
  void asManyAsTheRunnerTakes(double band) {
    double found = StandstillReadings.expected(band, 0.1 * band);
    assertEquals(1, found / drawn(band), 0.02);
  }

  private static double drawn(double band) {
    SplittableRandom random = new SplittableRandom(5);
    long readings = 0;
    for (int i = 0; i < DRAWS; i++) {
      readings += untilStill(band, random);
    }
    return (double) readings / DRAWS;
  }

  /** As the runner does it: successive readings agree, and the last stands. */
  private static int untilStill(double band, SplittableRandom random) {
    StandstillDetector still = new StandstillDetector(0.1 * band);
    double before = Double.POSITIVE_INFINITY;
    for (int n = 1; ; n++) {
      double now = random.nextGaussian();
      if (still.after(now) && Math.abs(now - before) <= band) {
        return n;
      }
      before = now;
    }
  }
}
