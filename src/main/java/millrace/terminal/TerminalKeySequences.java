// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.regex.Pattern;

/**
 * Removes the input of function and arrow keys: control sequences of ECMA-48, 5.4, and the short
 * forms of older terminals (common practice, no source). Stateless.
 */
public final class TerminalKeySequences {
  /** The Linux console puts a second bracket before the letter of its first five function keys. */
  private static final Pattern SEQUENCE =
      Pattern.compile(
          "(?:\u001b\\[\\[?|\u009b)[0-?]*[ -/]*[@-~]|\u001bO[ -/0-9;]*[@-~]|\u001b[ -/]*[0-~]?");

  private TerminalKeySequences() {}

  /**
   * A line without them.
   *
   * @param line the line as typed
   * @return the line without them; other control characters stay
   */
  public static String without(String line) {
    return line.indexOf('\u001b') < 0 && line.indexOf('\u009b') < 0
        ? line
        : SEQUENCE.matcher(line).replaceAll("");
  }
}
