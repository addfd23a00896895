// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import millrace.quantity.EnumWord;

/** How far a run got. */
public enum RunState implements EnumWord {
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

  @Override
  public String text() {
    return text;
  }
}
