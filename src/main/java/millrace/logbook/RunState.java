// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;

/** How far a run got. */
public enum RunState {
  /** Being written, or interrupted without goodbye. */
  UNFINISHED("unfinished"),
  /** Every point of its sequence was done, be it flagged or skipped. */
  COMPLETE("complete"),
  /** Ended early by a person, a signal or an interlock; it can be resumed. */
  STOPPED("stopped"),
  /** Ended early by a fault; it can be resumed. */
  FAILED("failed");

  private final String text;

  RunState(String text) {
    this.text = text;
  }

  /**
   * The word that the logbook, JSON and reports use.
   *
   * @return the word
   */
  public String text() {
    return text;
  }

  /**
   * Finds one by its word.
   *
   * @param text the word
   * @return the one; empty if none has that word
   */
  public static Optional<RunState> byText(String text) {
    for (RunState each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
