// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import millrace.evidence.Conformity;
import millrace.evidence.Result;

/** The outcome of a test of a board. */
public enum BoardOutcome {
  /** Every limit is met. */
  PASS("PASS"),
  /** Every limit is met, one of them within its guard band. */
  CONDITIONAL_PASS("PASS, CONDITIONALLY"),
  /** A limit is not met. */
  FAIL("FAIL"),
  /** The test ended, and a limit was not evaluated or a point is missing or flagged. */
  NOT_JUDGED("NOT JUDGED"),
  /** The test was aborted. */
  ABORTED("ABORTED");

  private final String text;

  BoardOutcome(String text) {
    this.text = text;
  }

  /**
   * The words on the screen.
   *
   * @return such as {@code PASS}
   */
  public String text() {
    return text;
  }

  /**
   * Tells whether the board may proceed.
   *
   * @return true if it passed
   */
  public boolean passed() {
    return this == PASS || this == CONDITIONAL_PASS;
  }

  /**
   * Tells whether the unit was judged: without a judgement no result can count.
   *
   * @return false if the test was aborted
   */
  public boolean ended() {
    return this != ABORTED;
  }

  /**
   * The outcome for a board from its results.
   *
   * @param results of one test
   * @param whole true if no point is flagged or missing
   * @param strict true if a conditional pass fails the board, as the datasheet may say
   * @return the outcome
   */
  public static BoardOutcome of(List<Result> results, boolean whole, boolean strict) {
    Conformity together = Result.together(results).orElse(Conformity.NOT_EVALUATED);
    boolean failed =
        together == Conformity.FAIL
            || together == Conformity.CONDITIONAL_FAIL
            || (strict && together == Conformity.CONDITIONAL_PASS);
    if (failed) {
      return FAIL;
    }
    if (together == Conformity.NOT_EVALUATED || !whole) {
      return NOT_JUDGED;
    }
    return together == Conformity.PASS ? PASS : CONDITIONAL_PASS;
  }
}
