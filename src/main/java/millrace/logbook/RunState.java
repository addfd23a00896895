// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import millrace.quantity.EnumWord;

/** The state of a run. */
public enum RunState implements EnumWord {
  /** Being written, or its process died. */
  UNFINISHED("unfinished"),
  /** Every point of its sequence was done, some perhaps flagged or skipped. */
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
