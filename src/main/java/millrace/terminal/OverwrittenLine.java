// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

/** A line at the terminal that is shown in place of the one before. Single-threaded. */
public final class OverwrittenLine implements AutoCloseable {
  private final Console console;
  private int wide;

  /**
   * Shows nothing yet.
   *
   * @param console an interactive one
   */
  public OverwrittenLine(Console console) {
    this.console = console;
  }

  /**
   * Shows a text in place of the one before, cut where the terminal ends.
   *
   * @param text one line
   */
  public void show(String text) {
    int room = Math.max(1, console.terminal().columns() - 1);
    String line = text.length() > room ? text.substring(0, room) : text;
    console.err().print("\r" + line + " ".repeat(Math.max(0, wide - line.length())));
    console.err().flush();
    wide = line.length();
  }

  /** Clears it away. */
  @Override
  public void close() {
    if (wide > 0) {
      console.err().print("\r" + " ".repeat(wide) + "\r");
      console.err().flush();
      wide = 0;
    }
  }
}
