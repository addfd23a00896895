// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Judgement.Risk;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.report.words.OverallVerdict;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;
import org.junit.jupiter.api.Test;

/** Results stand in columns, with what they are worth and what they come to. */
class ResultTableTest {
  static Result result(
      ResultQuantity quantity, String range, ResultConditions at, ComputationOutcome outcome) {
    return new Result(
        quantity,
        Optional.of(range),
        at,
        outcome,
        Optional.empty(),
        List.of(),
        Optional.empty(),
        "method",
        List.of());
  }

  static ComputationOutcome value(double value, double expanded) {
    return new ComputationOutcome.Value(
        value,
        Optional.of(
            new ComputationOutcome.Uncertainty(
                expanded / 2,
                expanded,
                value - expanded,
                value + expanded,
                0.9545,
                2,
                OptionalDouble.empty())),
        5);
  }

  static Result judged(Result result, Limit limit, Conformity conformity) {
    return result.with(
        new Judgement(
            limit,
            ConditionBox.NONE,
            DecisionRule.SIMPLE,
            conformity,
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            BoxJudgementBasis.MEASURED,
            Risk.UNKNOWN));
  }

  private static final Result TEMPCO =
      judged(
          result(ResultQuantity.TEMPCO, "1mA", ResultConditions.NONE, value(-1.9304, 0.0931)),
          Limits.between(-5, 5),
          Conformity.PASS);
  private static final Result RESISTANCE =
      judged(
          result(
              ResultQuantity.OUTPUT_RESISTANCE,
              "100uA",
              ResultConditions.of(ResultConditionKey.TEMPERATURE_DEGC, 23.04),
              new ComputationOutcome.Bound(ComputationOutcome.Side.ABOVE, 3.21e9, 21)),
          new Limit(OptionalDouble.of(1e9), OptionalDouble.empty()),
          Conformity.PASS);
  private static final Result MISSING =
      result(
          ResultQuantity.THERMAL_HYSTERESIS,
          "1mA",
          ResultConditions.NONE.with(ResultConditionKey.EXCURSION, "full"),
          new ComputationOutcome.Missing("T_ref visited once", 1));

  @Test
  void columnsAreAlignedAndValuesCarryTwoDigitsOfU() {
    assertEquals(
        """
        quantity            range  at              value                   limit            conformity  why
        tempco              1mA                    (-1.930 \u00b1 0.093) ppm/K  -5 to 5 ppm/K    pass
        output resistance   100uA  23.0 degC       above 3.210 Gohm        at least 1 Gohm  pass
        thermal hysteresis  1mA    full excursion  not computed                                         T_ref visited once

        Pass: All 2 limits are met.
        """,
        ResultTable.print(List.of(TEMPCO, RESISTANCE, MISSING)));
  }

  @Test
  void anIntervalOfAnotherCoverageSaysSo() {
    ComputationOutcome at95 =
        new ComputationOutcome.Value(
            2,
            Optional.of(
                new ComputationOutcome.Uncertainty(
                    0.05, 0.1, 1.9, 2.1, 0.95, 2, OptionalDouble.empty())),
            7);
    Result box = result(ResultQuantity.TEMPCO_BOX, "1mA", ResultConditions.NONE, at95);
    String table = ResultTable.print(List.of(TEMPCO, TEMPCO, box));
    assertTrue(table.contains("(2.00 \u00b1 0.10) ppm/K, U at 95 %"), table);
    assertEquals(1, table.split("U at", -1).length - 1, table);
  }

  @Test
  void noResultsGiveAHeadAndASentence() {
    assertEquals(
        "quantity  range  at  value  limit  conformity  why\n\n"
            + "Not judged: 0 results; no limit applies to any of them.\n",
        ResultTable.print(List.of()));
  }

  @Test
  void theWorstConformitySpeaks() {
    Result fail = judged(MISSING, Limits.between(-1, 1), Conformity.NOT_EVALUATED);
    OverallVerdict verdict = OverallVerdict.of(List.of(TEMPCO, fail));
    assertEquals("Not evaluated", verdict.word());
    assertEquals("1 of 2 limits are met; not evaluated: 1.", verdict.sentence());
  }

  @Test
  void aFailOutweighsWhatWasNotEvaluated() {
    Result open = judged(MISSING, Limits.between(-1, 1), Conformity.NOT_EVALUATED);
    Result fail = judged(TEMPCO, Limits.between(-1, 1), Conformity.FAIL);
    assertEquals("Fail", OverallVerdict.of(List.of(open, fail, TEMPCO)).word());
  }

  @Test
  void controlCharactersInNamesDoNotReachTheTerminal() {
    Result odd =
        result(ResultQuantity.TEMPCO, "1\u001b[2JmA\n\u202e", ResultConditions.NONE, value(1, 0.1));
    String table = ResultTable.print(List.of(odd));
    assertFalse(table.contains("\u001b") || table.contains("\u202e"));
    assertEquals(4, table.lines().count());
  }

  @Test
  void currentsALittleBelowAWholeUnitAreCountedInIt() {
    assertEquals(
        Optional.of("(0.999978 \u00b1 0.000027) mA"),
        ResultFigures.stated(
            result(
                ResultQuantity.CURRENT, "1mA", ResultConditions.NONE, value(0.999978e-3, 2.7e-8))));
  }

  @Test
  void aValueWithoutUncertaintySaysSo() {
    ComputationOutcome bare = new ComputationOutcome.Value(12.5, Optional.empty(), 3);
    assertEquals(
        Optional.of("12.500000 ppm, uncertainty not evaluated"),
        ResultFigures.stated(
            result(ResultQuantity.CURRENT_ERROR, "1mA", ResultConditions.NONE, bare)));
  }

  @Test
  void largeUncertaintiesRoundTheValueBeforeThePoint() {
    assertEquals(
        Optional.of("(12300 \u00b1 1500) ppm"),
        ResultFigures.stated(
            result(
                ResultQuantity.CURRENT_ERROR, "1mA", ResultConditions.NONE, value(12345, 1521))));
  }

  @Test
  void limitsAreReadAsPeopleWouldSayThem() {
    assertEquals("0 pS", ResultFigures.resolved(0, 180e-12, "S"));
    assertEquals(
        "-100 to 100 ppm", ResultFigures.limit(Limits.between(-100.00000000000001, 100), "ppm"));
    assertEquals(
        "at least 8 V",
        ResultFigures.limit(new Limit(OptionalDouble.of(8), OptionalDouble.empty()), "V"));
    assertEquals("900 uA to 1.1 mA", ResultFigures.limit(Limits.between(0.9e-3, 1.1e-3), "A"));
  }

  @Test
  void conditionsAreWords() {
    assertEquals(
        "load 4.700 kohm, 40.0 degC, criterion 0.1 %, against range 10mA",
        ResultConditionWords.of(
            ResultConditions.of(ResultConditionKey.LOAD_OHM, 4700)
                .with(ResultConditionKey.TEMPERATURE_DEGC, 40)
                .with(ResultConditionKey.CRITERION, 0.001)
                .with(ResultConditionKey.OTHER_RANGE, "10mA")));
  }
}
