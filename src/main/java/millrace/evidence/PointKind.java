// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** What was done at a point. */
public enum PointKind implements EnumWord {
  /** Readings of the unit under the conditions of the point. */
  MEASURE("measure"),
  /** Readings around the knee while the unit still comes to temperature: for the knee alone. */
  KNEE("knee"),
  /** Readings of the meter with no current in it. */
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
  /** A short look at ambient before the chamber moves. */
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
