// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;

/** What an input file was for a run. */
public enum FileRole {
  /** What to do. */
  SEQUENCE("sequence"),
  /** A sequence included by another. */
  PART("part"),
  /** What the unit promises. */
  DATASHEET("datasheet"),
  /** The instruments and their wiring. */
  BENCH("bench"),
  /** How an instrument is spoken to. */
  DRIVER("driver"),
  /** Readings taken elsewhere. */
  READINGS("readings"),
  /** Anything else that a result depends on. */
  OTHER("other");

  private final String text;

  FileRole(String text) {
    this.text = text;
  }

  /**
   * The word that the logbook, JSON and reports use.
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
  public static Optional<FileRole> byText(String text) {
    for (FileRole each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
