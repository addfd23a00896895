// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.terminal.SmallOutput;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Every command whose first, second, third, ... write to standard output fails, until none does: it
 * ends with 5 and says so, claims nothing, and what it wrote before has no hole.
 */
class NthWriteIT {
  private static final String LOST = "standard output cannot be written (No space left on device)";

  private static final String SHEET = " --datasheet examples/fx-3.datasheet.yaml";

  private static final List<String> COMMANDS =
      List.of(
          "--help",
          "--version",
          "--completion",
          "export 1 @book",
          "export 1 --constants @book",
          "analyze 1 @book",
          "analyze 1 --json @book",
          "runs @book",
          "runs --json @book",
          "show 1 @book",
          "show 1 --verify @book",
          "status 1 @book",
          "note 1 seen @book",
          "compare 1 2 @book",
          "compare 1 2 --json @book",
          "predict 1 @book",
          "predict 1 --json @book",
          "predict 1 --grid @book",
          "predict 1 --range 1mA --temperature 23degC --load 1kohm @book",
          "report 1 -o @out @book",
          "export 1 -o @out @book",
          "export 1 --pack @out @book",
          "export --backup @out @book",
          "import examples/fx-3-by-hand.csv" + SHEET + " @book",
          "import examples/fx-3-by-hand.csv --quiet" + SHEET + " @book",
          "budget examples/fx-3.datasheet.yaml",
          "budget examples/fx-3.datasheet.yaml --json",
          "preview sequences/quick-look.yaml --simulated" + SHEET,
          "schema sequence",
          "schema bench",
          "run @short --unit FX3-00042 --simulated" + SHEET + " @book",
          "demo --help");

  @TempDir private Path folder;

  @BeforeEach
  void prepare() throws IOException {
    Files.writeString(
        folder.resolve("short.yaml"),
        """
        sequence: short
        readings: {count: 2, line cycles: 1}
        settle: {wait: 100 ms}
        steps: [{in ranges: [1mA], do: {over loads: {resistance: [100 ohm, 1 kohm]}}}]
        """);
    for (int i = 0; i < 2; i++) {
      Spoken.done(words("import examples/fx-3-by-hand.csv" + SHEET + " @book"));
    }
  }

  private String[] words(String command) {
    return command
        .replace("@book", "--logbook " + folder.resolve("a.db"))
        .replace("@short", folder.resolve("short.yaml").toString())
        .replace("@out", folder.resolve("made").toString())
        .split(" ");
  }

  /** How many of its writes were failed. */
  private int failed(String command) throws IOException {
    for (int n = 0; ; n++) {
      Files.deleteIfExists(folder.resolve("made"));
      SmallOutput output = new SmallOutput(n);
      int code = Main.run(words(command), output.console());
      String what = command + ", write " + (n + 1) + ": " + output.err();
      assertFalse(output.err().contains("fault of Millrace"), what);
      if (!output.lost()) {
        assertFalse(output.err().contains(LOST), what);
        return n;
      }
      assertEquals(5, code, what);
      assertTrue(output.err().contains(LOST), what);
      assertFalse(output.err().contains("to standard output."), what + " claims too much");
      assertFalse(output.holed(), what + " wrote on behind it");
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"show 1 @book", "analyze 1 --json @book", "schema bench", "runs @book"})
  @Timeout(120)
  void aFewCommandsSaySoAtEachWrite(String command) throws IOException {
    assertTrue(failed(command) > 0);
  }

  @Test
  @Tag("campaign")
  @Timeout(3600)
  void everyCommandSaysSoAtEachWrite() throws IOException {
    StringBuilder figures = new StringBuilder();
    for (String command : COMMANDS) {
      int failed = failed(command);
      figures.append("%s writes failed one by one and were told: %s%n".formatted(failed, command));
      Path out = Files.createDirectories(Path.of("target", "verification"));
      Files.writeString(out.resolve("nth-write.txt"), figures);
    }
  }
}
