// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;
import java.util.stream.Stream;

/** What a run of the production loop is for. */
public enum ProductionRunPurpose {
  /** A unit that is produced. */
  BOARD("board"),
  /** The reference unit, to check the bench. */
  CHECK("self-check");

  private final String text;

  ProductionRunPurpose(String text) {
    this.text = text;
  }

  /**
   * The word in the logbook.
   *
   * @return board or self-check
   */
  public String text() {
    return text;
  }

  static Optional<ProductionRunPurpose> byText(String text) {
    return Stream.of(values()).filter(p -> p.text.equals(text)).findFirst();
  }
}
