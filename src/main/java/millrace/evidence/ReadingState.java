// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** What kind of reply a reading came from (methods.md 1.5). */
public enum ReadingState implements EnumWord {
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

  @Override
  public String text() {
    return text;
  }
}
