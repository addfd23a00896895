// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The kind of reply of a reading (methods.md 1.5). */
public enum ReadingState implements EnumWord {
  /** A number. */
  NUMBER("number"),
  /** The instrument reported an overrange. */
  OVERLOAD("overload"),
  /** The instrument reported that it has no number. */
  NOT_A_NUMBER("not a number"),
  /** The reply did not match its grammar. */
  MALFORMED("malformed"),
  /** A number that was measured again because it was far from its neighbours. */
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
