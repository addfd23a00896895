// SPDX-License-Identifier: Apache-2.0
package millrace.watch.shift;

/** Passes a line entered on a page to the reader that waits for one at the terminal. */
public interface EntryLine {
  /**
   * Passes the line to the waiting reader.
   *
   * @param line the line
   */
  void enter(String line);

  /** Discards a line that was entered and not read. */
  void withdraw();
}
