// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** In which direction a sweep went when a point was taken. */
public enum SweepDirection {
  /** Rising load. */
  UP("up"),
  /** Falling load. */
  DOWN("down");

  private final String text;

  SweepDirection(String text) {
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
  public static Optional<SweepDirection> byText(String text) {
    for (SweepDirection each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
