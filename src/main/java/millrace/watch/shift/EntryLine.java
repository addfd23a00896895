// SPDX-License-Identifier: Apache-2.0
package millrace.watch.shift;

/** Where a line goes that was entered on a page: to whoever waits for one at the terminal. */
public interface EntryLine {
  /**
   * Answers whoever waits.
   *
   * @param line what was entered
   */
  void enter(String line);

  /** Forgets what was entered and not taken. */
  void withdraw();
}
