// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The kind of a point. */
public enum PointKind implements EnumWord {
  /** Readings of the unit under the conditions of the point. */
  MEASURE("measure"),
  /** Readings around the knee during the soak, for the knee only. */
  KNEE("knee"),
  /** Readings of the meter without current. */
  ZERO("zero"),
  /** Readings of a stable standard instead of the unit. */
  CHECK_STANDARD("check standard"),
  /** Readings while the unit comes to temperature. */
  SOAK("soak"),
  /** Readings one after another for stability or warm-up. */
  TIME_SERIES("time series"),
  /** Readings of the leakage with the source off. */
  SOURCE_OFF("source off"),
  /** Readings of the meter chain on a known resistor. */
  KNOWN_RESISTOR("known resistor"),
  /** A short check at ambient before the chamber moves. */
  TRIAL("trial");

  private final String text;

  PointKind(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
