// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Numbers and spans behind options that no clock, no count and no seed can have. */
class NumbersBehindOptionsTest {
  @TempDir private Path folder;

  private Spoken run(String... more) {
    String[] words = {
      "run",
      "sequences/quick-look.yaml",
      "--unit",
      "FX3-00042",
      "--datasheet",
      "examples/fx-3.datasheet.yaml",
      "--logbook",
      folder.resolve("a.db").toString()
    };
    String[] all = new String[words.length + more.length];
    System.arraycopy(words, 0, all, 0, words.length);
    System.arraycopy(more, 0, all, words.length, more.length);
    return Spoken.by(all);
  }

  private void assertRefused(Spoken said, String words) {
    assertEquals(2, said.code(), said.err());
    assertTrue(said.err().contains(words), said.err());
    assertFalse(said.err().contains("fault of Millrace"), said.err());
    assertFalse(folder.resolve("a.db").toFile().exists());
  }

  @ParameterizedTest
  @CsvSource({
    "NaN, expected a number in plain digits",
    "1e400, expected a number in plain digits",
    "0x1p3, expected a number in plain digits",
    "\u0661, expected a number in plain digits",
    "0, 'outside (0, 1e6]'",
    "-1, 'outside (0, 1e6]'"
  })
  void aSpeedThatNoClockHasIsRefused(String speed, String words) {
    assertRefused(run("--bench", "examples/osk-simulated.bench.yaml", "--speed", speed), words);
  }

  @Test
  void aSpeedWithoutABenchFileIsRefused() {
    assertRefused(run("--simulated", "--speed", "60"), "--speed with --simulated");
  }

  @ParameterizedTest
  @ValueSource(strings = {"-1 h", "-0.1 s"})
  void aWarmUpThatLiesInTheFutureIsRefused(String span) {
    assertRefused(run("--simulated", "--on-for", span), "lies in the future");
  }

  @ParameterizedTest
  @ValueSource(strings = {"\u0667", "7.0", "99999999999999999999", "seven"})
  void aSeedInOtherDigitsIsRefused(String seed) {
    assertRefused(run("--simulated", "--seed", seed), "expected a");
  }
}
