// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunFacts;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What is recovered from simulated units against what they were seeded with, the bench's own errors
 * redrawn for each from the distributions that its bench file states: stated intervals hold the
 * truth as often as they say, and are not padded.
 */
class RecoveryIT {
  @TempDir private Path folder;

  private void recover(int units, double least) throws IOException {
    recover("" + units, units, least, 0.2, Recovery.VISITED_TWICE);
  }

  private void recover(
      String name, int units, double least, double leastShare, Recovery.Variant nights)
      throws IOException {
    Recovery recovery = new Recovery(folder, nights);
    for (long seed = 1; seed <= units; seed++) {
      recovery.night(seed);
    }
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.write(out.resolve("recovery-%s.txt".formatted(name)), recovery.figures());
    assertEquals(List.of(), recovery.mistreatments());
    // conditions of one unit share its bench's errors: chance counts units, not conditions
    assertTrue(recovery.predicted().coverage() >= least - 0.05, "" + recovery.predicted());
    assertTrue(recovery.predicted().medianShare() >= 0.15, "" + recovery.predicted());
    assertTrue(recovery.predicted().medianShare() <= 0.6, "" + recovery.predicted());
    for (ResultQuantity quantity : Recovery.JUDGED) {
      Recovery.Tally tally = recovery.tally(quantity);
      String said = quantity.key() + ": " + tally;
      assertTrue(tally.values() + tally.bounds() > units, said);
      assertTrue(tally.coverage() >= least, said);
      assertTrue(tally.boundMisses() <= Math.max(1, 0.05 * tally.bounds()), said);
      assertTrue(tally.values() == 0 || tally.medianShare() >= leastShare, said);
      assertTrue(tally.values() == 0 || tally.medianShare() <= 0.7, said);
    }
  }

  /** The shape of a planned night: soaks end early and apart, and the knee is searched. */
  private static final String EARLY =
      """
      sequence: a short night whose soaks end early
      readings: {count: 5, line cycles: 10}
      steps:
        - trial lap
        - wait: 90 min
        - at temperatures: [23 degC, 50 degC, 23 degC, 5 degC, 23 degC]
          soak: {within: 10 ppm, unit within: 1 K, at least: 4 min, at most: 2 h}
          do:
            - in ranges: [1uA, 10uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 20 %, 40 %, 60 %, 80 %, {A} %, {B} %, {C} %, {D} %]}
                  sweep: both
                - find the knee: {to: 50 mV, up to: 130 %}
      """;

  /** Soaks that end up to a kelvin apart leave temperature differences, not drift. */
  @Test
  @Tag("campaign")
  void unitsThatSoakedBrieflyAreRecovered() throws IOException {
    int units = Integer.getInteger("millrace.recovered", 100);
    recover(
        "early-soaks-" + units,
        units,
        0.93,
        0.15,
        new Recovery.Variant(EARLY, text -> text, inputs -> RunFacts.NONE));
  }

  @Test
  void aFewSeededUnitsAreRecovered() throws IOException {
    recover("true".equals(System.getenv("CI")) ? 30 : 20, 0.9);
  }

  @Test
  @Tag("campaign")
  void manySeededUnitsAreRecovered() throws IOException {
    recover(200, 0.9);
  }
}
