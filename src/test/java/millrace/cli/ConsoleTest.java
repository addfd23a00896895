// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import millrace.terminal.Consoles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What instruments and files say must not command the terminal of whoever reads it. */
class ConsoleTest {
  @TempDir private Path folder;

  private static String printed(String text) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream stream = new PrintStream(out, true, UTF_8);
    Consoles.of(new ByteArrayInputStream(new byte[0]), stream, stream, false).print(text);
    return out.toString(UTF_8);
  }

  @ParameterizedTest
  @CsvSource({
    "27, \\u001b",
    "7, \\u0007",
    "13, \\u000d",
    "155, \\u009b",
    "8238, \\u202e",
    "127, \\u007f"
  })
  void aCharacterThatCommandsIsShownByItsNumber(int character, String shown) {
    assertEquals(
        "a" + shown + "[2Jb" + System.lineSeparator(), printed("a" + (char) character + "[2Jb"));
  }

  @Test
  void textLinesAndTablesStayAsTheyAre() {
    String text = "477 \u00b1 6 Gohm\n\tµ \u2126 \ud83d\ude00 \u4e2d";
    assertEquals(text + System.lineSeparator(), printed(text));
  }

  @Test
  void aDocumentKeepsItsMeaning() {
    String text = "{\"unit\":\"\u202e\udb40\udc01\"}";
    assertEquals(Schemas.json(text), Schemas.json(printed(text)));
  }

  @Test
  void aUnitWithANameThatCommandsIsListedHarmlessly() throws Exception {
    Path csv = folder.resolve("night.csv");
    Files.writeString(csv, "unit,range,nominal_A,current_A\nA\u001b[2J\u009b1m,1mA,0.001,0.001\n");
    String logbook = folder.resolve("a.db").toString();
    Spoken imported = Spoken.by("import", csv.toString(), "--logbook", logbook);
    for (String command : new String[] {"runs", "show", "analyze"}) {
      Spoken spoken =
          command.equals("runs")
              ? Spoken.by("runs", "--logbook", logbook)
              : Spoken.by(command, "1", "--logbook", logbook);
      assertHarmless(spoken.out() + spoken.err());
    }
    assertHarmless(imported.out() + imported.err());
  }

  private static void assertHarmless(String text) {
    assertFalse(text.codePoints().anyMatch(c -> Character.isISOControl(c) && c != '\n'), text);
  }
}
