// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import millrace.logbook.RunReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Bench time of the shipped overnight sequence against common practice, in virtual time: one range
 * of it. {@link EconomyBenchmarkIT} runs it whole and prints uncertainties too.
 */
class EconomyIT {
  private static final double MOST_FOR_ONE = 0.6;
  private static final double MOST_FOR_FOUR = 1.0 / 3;
  private static final double ASKED_PPM = 2;

  /** A bound of two standard uncertainties may be missed by a little, once in some forty. */
  private static final double SLACK_PPM = 0.2;

  @TempDir private Path folder;

  private void holds(int units, double mostHours) throws IOException {
    Path sequence = ComparedNight.shipped(folder, "[1mA]");
    try (ComparedNight night = ComparedNight.of(folder, sequence, units, 1)) {
      assertEquals(List.of(), night.mistreatments());
      assertTrue(night.hours() <= mostHours, night.hours() + " h " + night.parts());
      assertEquals(1, night.previewedHours() / night.hours(), 0.1, "what the preview says");
      for (int unit = 0; unit < units; unit++) {
        RunReader run = night.reader(unit);
        assertEquals(0, run.doubtfulPoints());
        assertEquals(6, night.left(unit).size());
        night
            .left(unit)
            .forEach(
                left -> {
                  assertTrue(Math.abs(left.truePpm()) < ASKED_PPM, left.toString());
                  assertTrue(
                      Math.abs(left.truePpm()) <= left.statedPpm() + SLACK_PPM, left.toString());
                });
      }
    }
  }

  @Test
  void aNightOfOneUnitTakesLessThanSixTenthsOfCommonPractice() throws IOException {
    holds(1, MOST_FOR_ONE * CommonPractice.leastHours(1));
  }

  @Test
  void aNightOfFourUnitsTakesLessThanAThirdOfFourNights() throws IOException {
    holds(4, MOST_FOR_FOUR * 4 * CommonPractice.leastHours(1));
  }
}
