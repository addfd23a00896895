// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** Where the readings of a run came from. */
public enum RunOrigin {
  /** Real instruments. */
  BENCH("bench"),
  /** A simulated bench: never mixed with real units. */
  SIMULATED("simulated"),
  /** A file of readings taken elsewhere. */
  IMPORTED("imported");

  private final String text;

  RunOrigin(String text) {
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
  public static Optional<RunOrigin> byText(String text) {
    for (RunOrigin each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
