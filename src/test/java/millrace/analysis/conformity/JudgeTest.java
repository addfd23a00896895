// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ComputationOutcome.Side;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.DecisionRule.Kind;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class JudgeTest {
  private static final Limit FIVE = Limits.between(-5, 5);
  private static final Limit ABOVE_ONE = new Limit(OptionalDouble.of(1), OptionalDouble.empty());
  private static final Limit BELOW_ONE = new Limit(OptionalDouble.empty(), OptionalDouble.of(1));

  private static ComputationOutcome value(double y, double expanded) {
    return new ComputationOutcome.Value(
        y,
        Optional.of(
            new ComputationOutcome.Uncertainty(
                expanded / 2,
                expanded,
                y - expanded,
                y + expanded,
                0.9545,
                2,
                OptionalDouble.empty())),
        1);
  }

  private static Conformity bound(Side side, double value, Limit limit) {
    return Judge.of(new ComputationOutcome.Bound(side, value, 1), limit, DecisionRule.SIMPLE)
        .conformity();
  }

  @Test
  void aBoundPassesOnlyIfAllOfItLiesInsideAndFailsOnlyIfAllLiesOutside() {
    assertEquals(Conformity.PASS, bound(Side.ABOVE, 2, ABOVE_ONE));
    assertEquals(Conformity.NOT_EVALUATED, bound(Side.ABOVE, 0.5, ABOVE_ONE));
    assertEquals(Conformity.FAIL, bound(Side.BELOW, 0.5, ABOVE_ONE));
    assertEquals(Conformity.PASS, bound(Side.BELOW, 0.5, BELOW_ONE));
    assertEquals(Conformity.NOT_EVALUATED, bound(Side.BELOW, 2, BELOW_ONE));
    assertEquals(Conformity.FAIL, bound(Side.ABOVE, 2, BELOW_ONE));
    assertEquals(Conformity.NOT_EVALUATED, bound(Side.BELOW, 3, FIVE));
    assertEquals(Conformity.FAIL, bound(Side.BELOW, -6, FIVE));
  }

  @Test
  void testUncertaintyRatioIsThatOfTwoSidedLimits() {
    Judgement two = Judge.of(value(0, 0.5), FIVE, DecisionRule.SIMPLE);
    assertEquals(10, two.testUncertaintyRatio().orElseThrow(), 1e-12);
    Judgement one = Judge.of(value(0, 0.5), BELOW_ONE, DecisionRule.SIMPLE);
    assertEquals(OptionalDouble.empty(), one.testUncertaintyRatio());
  }

  @ParameterizedTest
  @CsvSource({
    "1, 4.9, true, PASS",
    "1, 5, false, PASS",
    "1, 6, false, FAIL",
    "0.5, 6, true, PASS",
    "0, 60, true, PASS"
  })
  void guardBandsThatFillTheLimitLeaveTheOutcomeOfTheRule(
      double r, double expanded, boolean can, Conformity outcome) {
    DecisionRule rule = new DecisionRule(Kind.GUARDED, r);
    assertEquals(can, Judge.canPass(FIVE, rule, expanded));
    assertEquals(outcome, Judge.of(value(0, expanded), FIVE, rule).conformity());
    assertTrue(Judge.canPass(BELOW_ONE, rule, expanded));
  }

  @Test
  void aValueFarOutsideFailsHoweverLargeItsUncertainty() {
    DecisionRule rule = new DecisionRule(Kind.GUARDED, 1);
    Result found = judged(value(-84, 24), Limits.between(-20, 20), rule);
    assertEquals(Conformity.FAIL, found.judgement().orElseThrow().conformity());
    assertEquals(
        List.of("no value could have passed: U is too large for this limit"), found.notes());
  }

  /** JCGM 106:2012, 9.3: by the definition of the specific risks. */
  @Test
  void theSpecificRiskIsThatOfAWrongDecision() {
    DecisionRule rule = DecisionRule.SIMPLE;
    Judgement in = Judge.of(value(4, 1), FIVE, rule);
    Judgement out = Judge.of(value(6, 1), FIVE, rule);
    assertEquals(0.0227501, in.risk().specific().orElseThrow(), 1e-6);
    assertEquals(0.0227501, out.risk().specific().orElseThrow(), 1e-6);
    assertFalse(
        Judge.of(new ComputationOutcome.Missing("none", 1), FIVE, rule)
            .risk()
            .specific()
            .isPresent());
  }

  @Test
  void theWorseSideCounts() {
    DecisionRule four = new DecisionRule(Kind.GUARDED_FOUR_OUTCOMES, 1);
    assertEquals(Conformity.CONDITIONAL_PASS, Judge.of(value(-4.5, 1), FIVE, four).conformity());
    assertEquals(Conformity.CONDITIONAL_FAIL, Judge.of(value(-5.5, 1), FIVE, four).conformity());
    assertEquals(Conformity.FAIL, Judge.of(value(-6.5, 1), FIVE, four).conformity());
    assertEquals(Conformity.CONDITIONAL_FAIL, Judge.of(value(5.5, 1), FIVE, four).conformity());
  }

  private static Result judged(ComputationOutcome outcome, Limit limit, DecisionRule rule) {
    Result plain =
        new Result(
            ResultQuantity.TEMPCO,
            Optional.of("1mA"),
            ResultConditions.NONE,
            outcome,
            Optional.empty(),
            List.of(),
            Optional.of("I_ref"),
            "any",
            List.of());
    return Judge.remarked(plain.with(Judge.of(outcome, limit, rule)));
  }

  @Test
  void whatAJudgementNeedsSaidIsSaidInWords() {
    DecisionRule guarded = new DecisionRule(Kind.GUARDED, 1);
    ComputationOutcome unknown = new ComputationOutcome.Value(2, Optional.empty(), 1);
    assertEquals(
        List.of("simple acceptance, uncertainty not evaluated"),
        judged(unknown, FIVE, guarded).notes());
    assertEquals(
        Conformity.PASS, judged(unknown, FIVE, guarded).judgement().orElseThrow().conformity());
    assertEquals(
        List.of("no value could have passed: U is too large for this limit"),
        judged(value(0, 9), FIVE, guarded).notes());
    assertEquals(
        List.of("the bound does not tell which side of the limit it is"),
        judged(new ComputationOutcome.Bound(Side.BELOW, 3, 1), ABOVE_ONE, guarded).notes());
    assertEquals(List.of(), judged(value(0, 1), FIVE, guarded).notes());
  }

  @Test
  void whatIsMissingIsNotEvaluated() {
    Judgement found =
        Judge.of(new ComputationOutcome.Missing("one temperature", 1), FIVE, DecisionRule.SIMPLE);
    assertEquals(Conformity.NOT_EVALUATED, found.conformity());
    assertFalse(found.probability().isPresent());
  }

  @Test
  void anExactValueIsInsideOrOutsideWithCertainty() {
    assertEquals(1, Judge.of(value(5, 0), FIVE, DecisionRule.SIMPLE).probability().orElseThrow());
    assertEquals(0, Judge.of(value(5.1, 0), FIVE, DecisionRule.SIMPLE).probability().orElseThrow());
  }
}
