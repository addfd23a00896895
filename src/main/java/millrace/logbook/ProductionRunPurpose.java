// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import millrace.quantity.EnumWord;

/** What a run of the production loop is for. */
public enum ProductionRunPurpose implements EnumWord {
  /** A unit that is produced. */
  BOARD("board"),
  /** The reference unit, to check the bench. */
  CHECK("self-check");

  private final String text;

  ProductionRunPurpose(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
