// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ProgressTest {
  private static final String STUCK =
      "soaking at 40 degC: the chamber stands still at 37.5 degC, 2.5 K short of its set point";

  private static String shown(int columns, String why, Duration left) {
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    PrintStream stream = new PrintStream(err, true, StandardCharsets.UTF_8);
    Terminal terminal = new Terminal(true, true, false, columns);
    Console console = new Console(new ByteArrayInputStream(new byte[0]), stream, stream, terminal);
    Progress progress = new Progress(console);
    progress.began(1, 40, 0);
    progress.waiting(why, Optional.of(left));
    progress.waiting(why, Optional.of(left));
    return err.toString(StandardCharsets.UTF_8).replaceFirst("run 1: 40 points\\R", "");
  }

  /** Each line has one character less than the terminal, so that none is broken by it. */
  @ParameterizedTest
  @ValueSource(ints = {20, 40, 60, 80, 100, 130, 200})
  void noWordIsCutHoweverNarrowTheTerminalIs(int columns) {
    String shown = shown(columns, STUCK, Duration.ofMinutes(12));
    assertTrue(
        shown.replaceAll("\\s+", " ").contains("2.5 K short of its set point"), "was: " + shown);
    for (String line : notEmpty(shown.split("[\\r\\n]+"))) {
      assertTrue(line.length() < columns, columns + ": '" + line + "'");
    }
  }

  @Test
  void whatHasNoRoomInOneLineIsSaidOnceInSeveral() {
    String shown = shown(40, STUCK, Duration.ofMinutes(12));
    assertEquals(shown.indexOf("soaking"), shown.lastIndexOf("soaking"), shown);
  }

  @Test
  void whatGoesOnIsNeverToldToEndInNoTime() {
    String shown = shown(100, "soaking at 40 degC", Duration.ZERO);
    assertTrue(shown.contains("soaking at 40 degC "), shown);
    assertTrue(!shown.contains("more") && !shown.contains(" 0 s"), shown);
  }
}
