// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;

@DisabledOnOs(OS.WINDOWS)
class CommandToTypeTest {
  private static final List<String> ODD =
      List.of(
          "run",
          "plain-1_2./x=3:4,5%6+7@8",
          "two words",
          "Ada's",
          "$HOME `date` \"quoted\" \\ *",
          "",
          "~",
          "a;b|c&d",
          "\u00e9t\u00e9");

  /** The shell itself is asked what it makes of the line. */
  @Test
  void aShellTakesEveryWordAsItWas() throws Exception {
    String line = CommandToType.of(ODD);
    Process process =
        new ProcessBuilder("sh", "-c", "millrace() { printf '%s\\n' \"$@\"; }; " + line).start();
    String heard = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(String.join("\n", ODD) + "\n", heard);
  }

  @Test
  void whatNeedsNoQuotesHasNone() {
    assertEquals(
        "millrace run --resume 1 --logbook night.db",
        CommandToType.of(List.of("run", "--resume", "1", "--logbook", "night.db")));
  }

  @Test
  void aPathIsNeverTakenForAnOption() {
    assertEquals("./-night.db", CommandToType.path(Path.of("-night.db")));
  }
}
