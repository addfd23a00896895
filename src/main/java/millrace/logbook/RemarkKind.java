// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;

/** What a remark that was added later says. */
public enum RemarkKind {
  /** Worth knowing. */
  REMARK("remark"),
  /** The point, or the run where none is named, must not enter results. */
  DO_NOT_USE("do not use"),
  /** Takes back what forbade its use. */
  USE_AGAIN("use again");

  private final String text;

  RemarkKind(String text) {
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
  public static Optional<RemarkKind> byText(String text) {
    for (RemarkKind each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
