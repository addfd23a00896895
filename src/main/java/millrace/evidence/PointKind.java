// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** What was done at a point. */
public enum PointKind {
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

  /**
   * The word that files, JSON, logbook and reports use.
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
  public static Optional<PointKind> byText(String text) {
    for (PointKind each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
