// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.logbook.Logbook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Commands whose output nothing takes: a full disk, a reader that went away. */
@Timeout(300)
class LostOutputIT {
  private static final String LOST = "standard output cannot be written (";

  @TempDir private Path folder;

  @BeforeEach
  void importReadings() {
    Needs.program("bash");
    assumeTrue(Files.exists(Path.of("/dev/full")), "the system has a device that is always full");
    Spoken.importExample(book());
  }

  private String book() {
    return folder.resolve("a.db").toString();
  }

  /** What a shell makes of a line in which m stands for the program and the logbook. */
  private int shell(String line) throws IOException, InterruptedException {
    String script = "m() { " + program() + " \"$@\"; }; set -o pipefail; " + line;
    Process process =
        new ProcessBuilder("bash", "-c", script)
            .redirectOutput(folder.resolve("out").toFile())
            .redirectError(folder.resolve("err").toFile())
            .start();
    assertTrue(process.waitFor(200, TimeUnit.SECONDS));
    return process.exitValue();
  }

  private static String program() {
    return "'%s' -XX:TieredStopAtLevel=1 -XX:+UseSerialGC -cp '%s' millrace.cli.Main"
        .formatted(
            Path.of(System.getProperty("java.home"), "bin", "java"),
            System.getProperty("java.class.path"));
  }

  private String said() throws IOException {
    return Files.readString(folder.resolve("err"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"analyze 1 --json", "export 1", "runs", "schema bench", "--help"})
  void aFullDiskIsToldInASentenceAndNothingIsClaimed(String command) throws Exception {
    boolean named = !command.startsWith("schema") && !command.startsWith("--");
    int code =
        shell("m " + command + (named ? " --logbook '" + book() + "'" : "") + " > /dev/full");
    assertEquals(5, code, said());
    assertTrue(said().contains(LOST), said());
    assertFalse(said().contains("Exported"), said());
    assertFalse(said().contains("fault of Millrace"), said());
  }

  @ParameterizedTest
  @ValueSource(strings = {"export 1 -o", "report 1 -o", "compare 1 --csv", "compare 1 -o"})
  void aFileThatADiskDoesNotTakeIsToldWithTheOptionThatNamedIt(String command) throws Exception {
    int code = shell("m " + command + " /dev/full --logbook '" + book() + "' > /dev/null");
    assertEquals(5, code, said());
    assertTrue(said().contains("/dev/full: it cannot be written whole ("), said());
    assertFalse(said().contains("fault of Millrace"), said());
  }

  @Test
  void aReaderThatGoesAwayEndsItQuietly() throws Exception {
    // Longer than any pipe holds.
    int code =
        shell(
            "for i in 1 2 3 4 5 6; do m export 1 --logbook '"
                + book()
                + "' || exit 9; done | head -c 1 > /dev/null");
    assertFalse(said().contains("cannot be written"), said());
    assertEquals(0, code, said());
  }

  @Test
  void aRunGoesOnNotesItAndSaysSoAtItsEnd() throws Exception {
    Path sequence =
        Files.writeString(
            folder.resolve("s.yaml"),
            "sequence: short\n"
                + "readings: {count: 2, line cycles: 1}\n"
                + "steps:\n"
                + "  - in ranges: [1mA]\n"
                + "    do:\n"
                + "      - over loads: {resistance: [100 ohm, 1 kohm]}\n");
    int code =
        shell(
            "m run '%s' --unit FX3-00042 --datasheet examples/fx-3.datasheet.yaml --simulated --logbook '%s' --record /dev/full --notices /dev/full > /dev/full"
                .formatted(sequence, folder.resolve("run.db")));
    assertEquals(5, code, said());
    assertTrue(said().contains(LOST), said());
    assertTrue(said().contains("--record"), said());
    assertTrue(said().contains("--notices"), said());
    try (Logbook logbook = Logbook.readOnly(folder.resolve("run.db"))) {
      String noted = logbook.reader(1).incidents() + " " + logbook.reader(1).remarks();
      assertTrue(noted.contains("--record"), noted);
      assertTrue(noted.contains("--notices"), noted);
      assertTrue(noted.contains(LOST), noted);
      assertTrue(logbook.verify(1).sound());
    }
  }
}
