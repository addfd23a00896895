// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.evidence.ResultQuantity;
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
    Recovery recovery = new Recovery(folder);
    for (long seed = 1; seed <= units; seed++) {
      recovery.night(seed);
    }
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.write(out.resolve("recovery-%s.txt".formatted(units)), recovery.figures());
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
      assertTrue(tally.values() == 0 || tally.medianShare() >= 0.2, said);
      assertTrue(tally.values() == 0 || tally.medianShare() <= 0.7, said);
    }
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
