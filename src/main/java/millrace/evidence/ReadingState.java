// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** What kind of reply a reading came from (methods.md 1.5). */
public enum ReadingState {
  /** A number. */
  NUMBER("number"),
  /** The instrument said that its range was exceeded. */
  OVERLOAD("overload"),
  /** The instrument said that it has no number. */
  NOT_A_NUMBER("not a number"),
  /** The reply was off its grammar. */
  MALFORMED("malformed"),
  /** A number that was asked again because it was far off its neighbours. */
  SUSPECT("suspect");

  private final String text;

  ReadingState(String text) {
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
  public static Optional<ReadingState> byText(String text) {
    for (ReadingState each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
