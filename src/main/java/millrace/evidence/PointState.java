// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** How a point ended. */
public enum PointState {
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
  public static Optional<PointState> byText(String text) {
    for (PointState each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
