// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import static java.nio.charset.StandardCharsets.UTF_8;
import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.assessment.Assessor;
import millrace.assessment.BenchRun;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.OpenBook;
import millrace.quantity.ClosedInterval;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** Limits over what a run of a known source has told: 2 Gohm, 4 ppm/K, at 13, 23 and 33 degC. */
class DatasheetLimitJudgeTest {
  private static final String SHEET =
      """
      datasheet: BX5 excitation source
      decision: {rule: simple}
      ranges:
        1mA: {nominal: 1 mA}
        10mA: {nominal: 10 mA}
      limits:
        - %s
      bins:
        A: [{quantity: tempco, range: 1mA, lower: -3 ppm/K, upper: 3 ppm/K}]
        B: [{quantity: tempco, range: 1mA, lower: -6 ppm/K, upper: 6 ppm/K}]
      """;

  @RegisterExtension private final OpenBook book = new OpenBook();

  private DatasheetLimitJudge judging(String limit) {
    List<Result> results =
        Assessor.assess(BenchRun.night(book.logbook(), 2e9, 4e-6, 13, 23, 33)).results();
    assertTrue(results.size() > 5, results.toString());
    Datasheet sheet = DatasheetFile.read("bx5.yaml", SHEET.formatted(limit).getBytes(UTF_8));
    MeasuredConditions known =
        new MeasuredConditions(
            Optional.of(new ClosedInterval(13, 33)),
            OptionalDouble.of(5),
            Optional.empty(),
            Optional.empty());
    return new DatasheetLimitJudge(
        sheet, results, Optional.empty(), Map.of("1mA", known), Optional.empty());
  }

  private static Result only(List<Result> judged) {
    List<Result> found = judged.stream().filter(r -> r.judgement().isPresent()).toList();
    assertEquals(1, found.size(), found.toString());
    return found.get(0);
  }

  private static Conformity conformity(Result judged) {
    return judged.judgement().orElseThrow().conformity();
  }

  private Result judged(String limit) {
    return only(judging(limit).judged(EnumSet.allOf(ResultQuantity.class)));
  }

  @Test
  void aCoefficientInsideItsLimitsPassesAndOneOutsideFails() {
    assertEquals(
        Conformity.PASS,
        conformity(judged("{quantity: tempco, range: 1mA, lower: -6 ppm/K, upper: 6 ppm/K}")));
    assertEquals(
        Conformity.FAIL,
        conformity(judged("{quantity: tempco, range: 1mA, lower: -3 ppm/K, upper: 3 ppm/K}")));
  }

  @Test
  void aBoxBeyondWhatWasMeasuredIsNotEvaluatedAndSaysWhatToMeasure() {
    Result judged =
        judged(
            "{quantity: tempco, range: 1mA, lower: -6 ppm/K, upper: 6 ppm/K,"
                + " when: {temperature: [5 degC, 50 degC]}}");

    assertEquals(Conformity.NOT_EVALUATED, conformity(judged));
    assertEquals(
        List.of("measure at 5 degC and 50 degC"),
        judged.judgement().orElseThrow().covers().wanting());
  }

  @Test
  void aRangeThatWasNotMeasuredIsAskedFor() {
    Result judged = judged("{quantity: tempco, range: 10mA, lower: -6 ppm/K, upper: 6 ppm/K}");

    assertEquals(Conformity.NOT_EVALUATED, conformity(judged));
    ComputationOutcome.Missing missing = (ComputationOutcome.Missing) judged.outcome();
    assertTrue(missing.reason().contains("measure range 10mA"), missing.reason());
  }

  @Test
  void whatWasNotAskedForIsNotJudged() {
    DatasheetLimitJudge judging =
        judging("{quantity: tempco, range: 1mA, lower: -6 ppm/K, upper: 6 ppm/K}");

    List<Result> found = judging.judged(EnumSet.of(ResultQuantity.OUTPUT_RESISTANCE));

    assertTrue(notEmpty(found).stream().allMatch(r -> r.judgement().isEmpty()));
  }

  @Test
  void theFirstBinWhoseLinesHoldTakesTheUnit() {
    assertEquals(
        Optional.of("B"),
        judging("{quantity: tempco, range: 1mA, lower: -6 ppm/K, upper: 6 ppm/K}").bin());
  }
}
