// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.Optional;

/**
 * The terminal of a command.
 *
 * @param attended true if a person is at it: standard input and standard error are a terminal
 * @param shown true if standard output is the terminal, not a file or a program
 * @param toned true if it can show bold or dim text and the user did not switch that off
 * @param columns characters per line, 1 or more
 */
public record Terminal(boolean attended, boolean shown, boolean toned, int columns) {
  private static final int USUAL_COLUMNS = 80;

  /**
   * Made from the findings of the launcher and the environment: NO_COLOR, or a terminal that cannot
   * show bold.
   */
  static Terminal ofProcess() {
    boolean plain =
        Optional.ofNullable(System.getenv("NO_COLOR")).filter(v -> !v.isEmpty()).isPresent()
            || "dumb".equals(System.getenv("TERM"));
    boolean shown = Boolean.getBoolean("millrace.shown");
    return new Terminal(
        Boolean.getBoolean("millrace.terminal"),
        shown,
        shown && !plain,
        Math.max(1, Integer.getInteger("millrace.columns", USUAL_COLUMNS)));
  }

  /**
   * Tells whether it shows characters beyond ASCII.
   *
   * @return true if the user's environment names UTF-8
   */
  public boolean showsUnicode() {
    return "UTF-8".equalsIgnoreCase(System.getProperty("native.encoding"));
  }
}
