// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import millrace.quantity.EnumWord;

/** The kind of a later remark. */
public enum RemarkKind implements EnumWord {
  /** Worth knowing. */
  REMARK("remark"),
  /** The point, or the run where none is named, must not enter results. */
  DO_NOT_USE("do not use"),
  /** Takes back what forbade its use. */
  USE_AGAIN("use again"),
  /** The unit was repaired or adjusted after the run, so that later runs measure another state. */
  REPAIR("repair");

  private final String text;

  RemarkKind(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }

  /**
   * Tells whether it decides if what it is on may be used.
   *
   * @return true for 'do not use' and 'use again'
   */
  public boolean decidesUse() {
    return this == DO_NOT_USE || this == USE_AGAIN;
  }
}
