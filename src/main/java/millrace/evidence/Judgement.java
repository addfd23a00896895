// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.OptionalDouble;

/**
 * A result held against its limit (methods.md 7).
 *
 * @param limit the limit, in the unit of the result
 * @param when the conditions that the limit holds for
 * @param rule the rule by which it was judged
 * @param conformity the outcome
 * @param testUncertaintyRatio (upper - lower)/(2 U), for two-sided limits of a result with U
 * @param probability probability of conformity, 0 to 1; empty without an uncertainty
 * @param covers the basis of the judgement, and missing measurements
 * @param risk the risks of a wrong decision
 */
public record Judgement(
    Limit limit,
    ConditionBox when,
    DecisionRule rule,
    Conformity conformity,
    OptionalDouble testUncertaintyRatio,
    OptionalDouble probability,
    BoxJudgementBasis covers,
    Risk risk) {

  /** Checks the probability. */
  public Judgement {
    if (probability.isPresent()
        && !(probability.getAsDouble() >= 0 && probability.getAsDouble() <= 1)) {
      throw new IllegalArgumentException(
          "probability of conformity is " + probability.getAsDouble() + ", must be from 0 to 1");
    }
  }

  /**
   * Tells whether the limit was not met.
   *
   * @return true for a fail and a conditional fail
   */
  public boolean failed() {
    return conformity == Conformity.FAIL || conformity == Conformity.CONDITIONAL_FAIL;
  }

  /**
   * The same judgement for a limit over a box.
   *
   * @param box the conditions of the limit
   * @param known the basis of the judgement
   * @return the judgement
   */
  public Judgement over(ConditionBox box, BoxJudgementBasis known) {
    return new Judgement(
        limit, box, rule, conformity, testUncertaintyRatio, probability, known, risk);
  }

  /**
   * The same judgement with the risks from a batch.
   *
   * @param all the risks
   * @return the judgement
   */
  public Judgement with(Risk all) {
    return new Judgement(
        limit, when, rule, conformity, testUncertaintyRatio, probability, covers, all);
  }

  /**
   * The risks of a wrong decision (JCGM 106:2012, clauses 9.3 and 9.5; methods.md 7.1).
   *
   * @param specific probability that this verdict is wrong, 0 to 1: for an accepted unit that it
   *     lies outside, for a rejected one that it lies inside; empty without an uncertainty or
   *     verdict
   * @param globalConsumer probability that a unit of the batch lies outside and is accepted, 0 to
   *     1; empty where the batch's spread is not known
   * @param globalProducer probability that a unit of the batch lies inside and is rejected, 0 to 1;
   *     empty where the batch's spread is not known
   */
  public record Risk(
      OptionalDouble specific, OptionalDouble globalConsumer, OptionalDouble globalProducer) {

    /** Nothing is known of it. */
    public static final Risk UNKNOWN =
        new Risk(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());

    /** Checks the probabilities. */
    public Risk {
      checked(specific);
      checked(globalConsumer);
      checked(globalProducer);
    }

    private static void checked(OptionalDouble risk) {
      if (risk.isPresent() && !(risk.getAsDouble() >= 0 && risk.getAsDouble() <= 1)) {
        throw new IllegalArgumentException(
            "a risk is " + risk.getAsDouble() + ", must be from 0 to 1");
      }
    }
  }
}
