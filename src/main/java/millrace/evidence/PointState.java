// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** How a point ended. */
public enum PointState implements EnumWord {
  /** Measurement in progress; only time series and soaks are ever stored in this state. */
  OPEN("open"),
  /** All requested readings are there. */
  COMPLETE("complete"),
  /** Readings are there but doubtful; the reason is stated. */
  FLAGGED("flagged"),
  /** Not measured; the reason is stated. */
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
