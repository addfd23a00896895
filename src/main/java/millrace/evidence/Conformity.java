// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The conformity of a result with its limit (methods.md 7.2, 7.3). */
public enum Conformity implements EnumWord {
  /** Inside, by the decision rule. */
  PASS("pass"),
  /** Inside the limit, but within the guard band. */
  CONDITIONAL_PASS("conditional pass"),
  /** Outside the limit, but within the guard band. */
  CONDITIONAL_FAIL("conditional fail"),
  /** Outside, by the decision rule. */
  FAIL("fail"),
  /** No value, a bound that straddles the limit, or conditions of the limit that are not known. */
  NOT_EVALUATED("not evaluated");

  private final String text;

  Conformity(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }

  /**
   * The rank of the outcome among several.
   *
   * @return larger is worse; not evaluated ranks between a conditional pass and a conditional fail
   */
  public int weight() {
    return switch (this) {
      case PASS -> 0;
      case CONDITIONAL_PASS -> 1;
      case NOT_EVALUATED -> 2;
      case CONDITIONAL_FAIL -> 3;
      case FAIL -> 4;
    };
  }
}
