// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.Optional;

/**
 * The terminal at which a command was started.
 *
 * @param attended true if a person sits at it: standard input and standard error are a terminal
 * @param shown true if standard output goes there too, and is not kept in a file or read by a
 *     program
 * @param toned true if it can show text in bold or dim and the user did not switch that off
 * @param columns how many characters a line takes, 1 or more
 */
public record Terminal(boolean attended, boolean shown, boolean toned, int columns) {
  private static final int USUAL_COLUMNS = 80;

  /**
   * From what the launcher found and from the environment: NO_COLOR, or a terminal that cannot show
   * bold.
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
}
