// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** How a point ended. */
public enum PointState implements EnumWord {
  /** Still being taken; only time series and soaks are ever stored like this. */
  OPEN("open"),
  /** All asked readings are there. */
  COMPLETE("complete"),
  /** Readings are there but should not be trusted; the reason says why. */
  FLAGGED("flagged"),
  /** Not taken; the reason says why. */
  SKIPPED("skipped");

  private final String text;

  PointState(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
