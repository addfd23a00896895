// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The direction of a sweep at a point. */
public enum SweepDirection implements EnumWord {
  /** Rising load. */
  UP("up"),
  /** Falling load. */
  DOWN("down");

  private final String text;

  SweepDirection(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
