// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.TypeTestRun;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunReader;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.Test;

/** A limit is judged over everything that it promises, and not evaluated beyond what is known. */
class JudgedOverItsBoxTest extends Importing {
  private static final String SHEET =
      """
      datasheet: BX5 excitation source
      decision: {rule: guarded, r: 1}
      %s
      ranges:
        1mA: {nominal: 1 mA%s}
      limits:
        - %s
      """;
  private static final String BOX =
      "{quantity: current_error, range: 1mA, lower: -100 ppm, upper: 100 ppm,"
          + " when: {temperature: [5 degC, 50 degC], terminal voltage: [0 V, 12 V]}}";

  /** Readings of a source of so many ppm at 23 degC, with a tempco and a slope over voltage. */
  private static String readings(
      String unit, double ppm, double ppmPerK, double[] degC, double highestV) {
    StringBuilder csv =
        new StringBuilder(
            "unit,range,nominal_A,temperature_degC,load_ohm,time_s,u_current_A,current_A\n");
    int i = 0;
    for (double t : degC) {
      for (int step = 0; step <= 6; step++) {
        double volts = highestV * step / 6;
        double error = ppm + ppmPerK * (t - 23) - 0.3 * volts;
        double current = 1e-3 * (1 + 1e-6 * error);
        csv.append("%s,1mA,0.001,".formatted(unit)).append(NumberText.print(t)).append(',');
        csv.append(NumberText.print(volts / 1e-3)).append(',').append(60 * i++).append(",2e-10,");
        csv.append(NumberText.print(current)).append('\n');
      }
    }
    return csv.toString();
  }

  private Assessment judged(String csv, String sheet, Optional<TypeTestRun> like)
      throws IOException {
    RunReader reader = logbook.reader(imports(csv).get(0).run());
    JudgementBasis basis =
        Assessor.keptBasis(reader)
            .with(DatasheetFile.read("kind.yaml", sheet.getBytes(StandardCharsets.UTF_8)), "none");
    return Assessor.assess(reader, like.map(basis::like).orElse(basis));
  }

  private Assessment judged(String csv, String limit) throws IOException {
    return judged(csv, SHEET.formatted("", "", limit), Optional.empty());
  }

  private static Result limited(Assessment assessment) {
    List<Result> all =
        assessment.results().stream().filter(r -> r.judgement().isPresent()).toList();
    assertEquals(1, all.size(), all::toString);
    return all.get(0);
  }

  private static Conformity conformity(Result r) {
    return r.judgement().map(Judgement::conformity).orElseThrow();
  }

  private static List<String> wanting(Result r) {
    return r.judgement().map(j -> j.covers().wanting()).orElseThrow();
  }

  @Test
  void aBoxThatReachesBeyondWhatWasMeasuredIsNotEvaluatedAndSaysWhatToMeasure() throws IOException {
    Result found = limited(judged(readings("U1", 60, 2, new double[] {23, 28}, 6), BOX));
    assertEquals(Conformity.NOT_EVALUATED, conformity(found));
    assertEquals(
        "[measure at 5 degC, measure at 12 V, measure at 50 degC]", wanting(found).toString());
  }

  @Test
  void theWorstConditionOfTheBoxIsJudgedWhetherOrNotItWasMeasured() throws IOException {
    Result found =
        limited(judged(readings("U1", 60, 2, new double[] {23, 35, 49.5, 12, 5.5, 23}, 12.2), BOX));
    assertEquals(Conformity.FAIL, conformity(found));
    // 60 ppm at 23 degC and 2 ppm/K: 114 ppm at 50 degC into a short.
    assertEquals(114, ((ComputationOutcome.Value) found.outcome()).value(), 8);
    assertEquals(50, found.at().number(ResultConditionKey.TEMPERATURE_DEGC).orElseThrow(), 1e-9);
  }

  @Test
  void aUnitThatIsGoodOverItsWholeBoxPassesAndSaysHowThatIsKnown() throws IOException {
    Result found =
        limited(
            judged(readings("U1", 10, 0.5, new double[] {23, 35, 50, 23, 14, 5, 23}, 12.2), BOX));
    assertEquals(Conformity.PASS, conformity(found));
    assertEquals(
        BoxJudgementBasis.Basis.MEASURED, found.judgement().orElseThrow().covers().basis());
  }

  @Test
  void aUnitThatFailsWhereItWasMeasuredFailsWhateverIsWanting() throws IOException {
    Result found = limited(judged(readings("U1", 300, 0, new double[] {23, 28, 23}, 6), BOX));
    assertEquals(Conformity.FAIL, conformity(found));
    assertTrue(wanting(found).contains("measure at 12 V"), found::toString);
  }

  @Test
  void aSupplyThatNobodyMeasuredOrStatedDoesNotCountAsMet() throws IOException {
    Result found =
        limited(
            judged(
                readings("U1", 0, 0, new double[] {23, 23}, 6),
                "{quantity: current_error, upper: 100 ppm,"
                    + " when: {terminal voltage: [0 V, 5 V], supply: [90 V, 91 V]}}"));
    assertEquals(Conformity.NOT_EVALUATED, conformity(found));
    assertEquals(
        "[the supply voltage was neither measured nor stated: measure at a supply voltage of 90 V"
            + " and 91 V]",
        wanting(found).toString());
  }

  @Test
  void aTimeOnThatNobodyStatedDoesNotCountAsMet() throws IOException {
    Result found =
        limited(
            judged(
                readings("U1", 0, 0, new double[] {23, 23}, 6),
                "{quantity: current_error, upper: 100 ppm,"
                    + " when: {terminal voltage: [0 V, 5 V], time on: [10 h, 11 h]}}"));
    assertEquals(Conformity.NOT_EVALUATED, conformity(found));
    assertEquals(
        "[nobody said how long the unit had been on ('--on-for'): measure at a time on of 10 h and"
            + " 11 h]",
        wanting(found).toString());
  }

  @Test
  void aTempcoIsPromisedOverItsSpan() throws IOException {
    String limit = "{quantity: tempco, upper: 5 ppm/K, when: {temperature: [5 degC, 50 degC]}}";
    Result narrow =
        limited(judged(readings("U1", 0, 0.5, new double[] {23, 40, 10, 23}, 6), limit));
    assertEquals(Conformity.NOT_EVALUATED, conformity(narrow));
    assertEquals("[measure at 5 degC and 50 degC]", wanting(narrow).toString());
    Result wide = limited(judged(readings("U2", 0, 0.5, new double[] {23, 50, 5, 23}, 6), limit));
    assertEquals(Conformity.PASS, conformity(wide));
  }

  private static final String BOARD =
      "{quantity: current_error, lower: -100 ppm, upper: 100 ppm,"
          + " when: {temperature: [18 degC, 28 degC], terminal voltage: [0 V, 5 V]}}";

  @Test
  void aBoardAtOneTemperatureIsNotEvaluatedWithoutATypeRunOrDesign() throws IOException {
    Result found = limited(judged(readings("B1", 10, 1, new double[] {23}, 6), BOARD));
    assertEquals(Conformity.NOT_EVALUATED, conformity(found));
    assertEquals("[measure at 18 degC, measure at 28 degC]", wanting(found).toString());
  }

  @Test
  void aBoardTakesItsTemperatureCoefficientsFromATypeRunAndSaysSo() throws IOException {
    RunReader type =
        logbook.reader(
            imports(readings("T1", 20, 1.5, new double[] {23, 35, 50, 23, 5, 23}, 6)).get(0).run());
    TypeTestRun like = Assessor.typeRun(type);
    Result found =
        limited(
            judged(
                readings("B2", 10, 1, new double[] {23}, 6),
                SHEET.formatted("", "", BOARD),
                Optional.of(like)));
    assertEquals(Conformity.PASS, conformity(found));
    assertEquals(
        BoxJudgementBasis.Basis.TYPE_RUN, found.judgement().orElseThrow().covers().basis());
    assertTrue(
        found.notes().contains("tempco not measured on this unit, taken from " + like.name()),
        found.notes()::toString);
    // Nothing tells how far units lie apart: 1.5 ppm/K either way over five kelvin.
    double u = ((ComputationOutcome.Value) found.outcome()).uncertainty().orElseThrow().expanded();
    assertTrue(u > 10 && u < 25, () -> "U " + u);
  }

  @Test
  void aBoardTakesTheWorstCaseOfItsPartsWhereTheyAreStated() throws IOException {
    String parts =
        """
        parts:
          REF: {kind: reference, value: 2.5 V, tolerance: 40 ppm, tempco: 2 ppm/K}
          R1: {kind: resistor, value: 2.5 kohm, tolerance: 50 ppm, tempco: 3 ppm/K}\
        """;
    String made = ", made from: {reference: REF, set voltage: 2.5 V, resistor: R1}";
    Result found =
        limited(
            judged(
                readings("B3", 10, 1, new double[] {23}, 6),
                SHEET.formatted(parts, made, BOARD),
                Optional.empty()));
    assertEquals(Conformity.PASS, conformity(found));
    assertEquals(BoxJudgementBasis.Basis.DESIGN, found.judgement().orElseThrow().covers().basis());
    // 5 ppm/K either way, all equally likely: u 2.9 ppm/K, over five kelvin 14.4 ppm.
    double u = ((ComputationOutcome.Value) found.outcome()).uncertainty().orElseThrow().standard();
    assertEquals(14.4, u, 1.5);
  }

  @Test
  void resultsAtMeasuredConditionsKeepTheirRowsWithoutALimit() throws IOException {
    Assessment all = judged(readings("U1", 10, 0.5, new double[] {23, 35, 23}, 6), BOARD);
    List<Result> errors =
        all.results().stream().filter(r -> r.quantity() == ResultQuantity.CURRENT_ERROR).toList();
    assertTrue(errors.stream().anyMatch(r -> r.judgement().isEmpty()), errors::toString);
  }
}
