// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.DecisionRule.Risks;
import millrace.evidence.ResultQuantity;

/**
 * A sequence as it is written.
 *
 * @param title what it is called
 * @param compute the results that are wanted; empty for all that the readings give
 * @param production how boards are tested by it
 * @param adaptive whether a run looks at its plan again after each temperature
 * @param rules the rules of readings, settling and failure for all of its steps
 * @param steps what is done, in order
 */
public record SequenceFile(
    String title,
    Set<ResultQuantity> compute,
    Production production,
    boolean adaptive,
    MeasuringRuleOverrides rules,
    List<Step> steps) {
  /** Copies the collections. */
  public SequenceFile {
    compute = Set.copyOf(compute);
    steps = List.copyOf(steps);
  }

  /**
   * How boards are tested, one after another.
   *
   * @param firstFail what happens when a limit is not met
   * @param reference serial number of the reference unit that checks the bench; empty: not stated
   * @param every after how many boards a check is due, 1 or more; empty: not stated
   * @param earlyEnd when a board may end early; empty: it does not
   */
  public record Production(
      FirstFail firstFail,
      Optional<String> reference,
      Optional<Integer> every,
      Optional<EarlyEndRule> earlyEnd) {}

  /**
   * When a board may end early (methods.md 12).
   *
   * @param risks at which risks
   * @param again what is measured more than once; limits on anything else are settled by their rule
   *     once they are measured. Empty: everything may be
   */
  public record EarlyEndRule(Risks risks, Set<ResultQuantity> again) {
    /** Copies the set. */
    public EarlyEndRule {
      again = Set.copyOf(again);
    }
  }

  /** What happens when a limit is not met while there is more to measure. */
  public enum FirstFail {
    /** Everything is measured. */
    GO_ON("go on"),
    /** The rest is left out: the unit has failed anyway. */
    STOP("stop");

    private final String text;

    FirstFail(String text) {
      this.text = text;
    }

    /**
     * The words in the file.
     *
     * @return go on or stop
     */
    public String text() {
      return text;
    }
  }
}
