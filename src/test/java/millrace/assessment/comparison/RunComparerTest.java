// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static millrace.assessment.comparison.Batch.error;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import millrace.analysis.Reference;
import millrace.analysis.batch.GaugeStudy;
import millrace.analysis.batch.Yield;
import millrace.assessment.comparison.Batch.Order;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.evidence.setting.PointSettings;
import millrace.fault.BadInputException;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.logbook.RunWriter;
import millrace.report.comparison.ComparisonTable;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RunComparerTest {
  private static final double SUM = 1e-12;

  @TempDir Path folder;
  @AutoClose private Batch batch;

  @BeforeEach
  void openBatch() {
    batch = new Batch(folder);
  }

  private long board(String unit, double ppm) {
    return batch.run(Order.of(unit), List.of(error(ppm)));
  }

  private static BatchDistribution only(Comparison c) {
    assertEquals(1, c.distributions().size());
    return c.distributions().get(0);
  }

  private static BatchDistribution.Statistics statistics(Comparison c) {
    return only(c).statistics().orElseThrow();
  }

  @Test
  void meanAndScatterAreThoseOfTheUnits() {
    List.of(-3.0, 1.0, 2.0, 8.0).forEach(v -> board("U" + v, v));
    BatchDistribution.Statistics s = statistics(batch.compared());
    assertEquals(4, s.spread().n());
    assertEquals(2, s.spread().mean(), SUM);
    // Squares about 2: 25 + 1 + 0 + 36, over 3.
    assertEquals(Math.sqrt(62 / 3.0), s.spread().sd(), SUM);
    assertEquals(Optional.of(Batch.LIMIT), only(batch.compared()).limit());
  }

  @Test
  void theLimitLessItsGuardBandStandsBesideTheDatasheets() {
    board("U1", 4);
    double u = 2 * Math.hypot(15, 2);
    Limit guarded = only(batch.compared()).testLimit().orElseThrow();
    assertEquals(-100 + u, guarded.lower().orElseThrow(), SUM);
    assertEquals(100 - u, guarded.upper().orElseThrow(), SUM);
  }

  @Test
  void theFirstResultOfAUnitCountsWhateverComesAfterIt() {
    board("U1", 300);
    batch.run(Order.of("U1").with("retest cause", "adapter exchanged"), List.of(error(3)));
    batch.run(Order.of("U1").with("retest cause", "again"), List.of(error(4)));
    board("U2", 5);
    Comparison c = batch.compared();
    Yield yield = c.yields().get(Comparison.ALL);
    assertEquals(1, yield.firstPass().count());
    assertEquals(2, yield.afterRetest().count());
    // The datasheet allows one retest.
    assertEquals(1, yield.retests());
    assertEquals(1, yield.refused());
    assertEquals(152.5, statistics(c).spread().mean(), SUM);
    assertEquals(Map.of("fine", 1L), c.bins());
  }

  @Test
  void simulatedUnitsAreLeftOutOfASearchAndSaidSo() {
    board("U1", 3);
    batch.run(Order.of("U2"), RunOrigin.SIMULATED, List.of(error(50)), w -> {});
    Comparison c = batch.compared();
    assertFalse(c.simulated());
    assertEquals(List.of("U1"), c.runs().stream().map(ComparedRun::unit).toList());
    assertEquals(
        List.of("1 simulated runs are left out: they never stand among real units"), c.notes());
  }

  @Test
  void simulatedAndRealUnitsAreRefusedWhereAPersonNamesThem() {
    board("U1", 3);
    batch.run(Order.of("U2"), RunOrigin.SIMULATED, List.of(error(50)), w -> {});
    List<RunSummary> all = batch.book().runs(RunFilter.ALL);
    BadInputException refused =
        assertThrows(
            BadInputException.class,
            () -> RunComparer.of(batch.book(), all, true, UnitFactors.NONE));
    assertTrue(
        refused.getMessage().contains("run 2 is simulated and run 1 is real"),
        refused.getMessage());
  }

  @Test
  void simulatedUnitsAmongThemselvesAreComparedAsSuch() {
    batch.run(Order.of("U2"), RunOrigin.SIMULATED, List.of(error(50)), w -> {});
    assertTrue(batch.compared().simulated());
  }

  @Test
  void whatDidNotEndWasWithdrawnOrCheckedTheBenchIsLeftOutWithItsReason() {
    board("U1", 3);
    batch.unfinished(Order.of("U2"));
    long withdrawn = board("U3", 4);
    batch
        .book()
        .add(
            withdrawn,
            new Remark(
                RemarkKind.DO_NOT_USE, OptionalLong.empty(), "wrong board", "Ada", Instant.EPOCH));
    batch.run(Order.of("REF").with("production", "self-check"), List.of(error(0)));
    Comparison c = batch.compared();
    assertEquals(List.of("U1"), c.runs().stream().map(ComparedRun::unit).toList());
    assertEquals(
        List.of(
            "run 2 is left out: it did not end",
            "run 3 is left out: 'do not use' was said of it",
            "run 4 is left out: it is a self-check of the bench"),
        c.notes());
  }

  @Test
  void nothingToCompareIsRefusedInWords() {
    batch.unfinished(Order.of("U2"));
    BadInputException none = assertThrows(BadInputException.class, batch::compared);
    assertTrue(none.getMessage().contains("none of the 1 runs asked for can be compared"));
  }

  @Test
  void anOutlierIsShownAndStaysInTheMean() {
    double sum = 900;
    for (int i = 0; i < 20; i++) {
      double value = i % 5;
      board("U" + i, value);
      sum += value;
    }
    long odd = board("ODD", 900);
    BatchDistribution.Statistics s = statistics(batch.compared());
    assertEquals(List.of(odd), s.outliers());
    assertEquals(sum / 21, s.spread().mean(), 1e-9);
  }

  @Test
  void aBadBatchStandsOutAgainstTheOthers() {
    for (int i = 0; i < 12; i++) {
      batch.run(Order.of("A" + i).in("B6"), List.of(error(i % 4)));
      batch.run(Order.of("B" + i).in("B7"), List.of(error(i % 4 + 0.2)));
      batch.run(Order.of("C" + i).in("B8"), List.of(error(i % 4 + 20)));
    }
    Comparison c = batch.compared();
    assertEquals(3, c.contrasts().size());
    Comparison.Contrast bad =
        c.contrasts().stream()
            .filter(k -> k.group().equals(new Comparison.Group(ComparisonFactor.BATCH, "B8")))
            .findFirst()
            .orElseThrow();
    assertEquals(19.9, bad.comparison().difference(), 1e-9);
    assertTrue(bad.comparison().probability() < 1e-6);
    assertEquals(List.of("", "B6", "B7", "B8"), List.copyOf(c.yields().keySet()));
  }

  @Test
  void runsJudgedByDifferentLimitsHaveNoCapability() {
    board("U1", 3);
    batch.run(Order.of("U2"), List.of(error(5, Limits.between(-90, 90))));
    Comparison c = batch.compared();
    assertEquals(Optional.empty(), statistics(c).capability());
    assertEquals(
        List.of("judged by different limits, so no capability is computed"), only(c).notes());
  }

  private Comparison.Drift drift(String laterCertificate) {
    board("U1", 3);
    batch.run(
        Order.of("U1"),
        RunOrigin.BENCH,
        List.of(error(13)),
        w -> Batch.instrument(w, laterCertificate));
    Comparison c = batch.compared();
    assertEquals(1, c.drifts().size());
    return c.drifts().get(0);
  }

  @Test
  void aUnitAgainstItselfForgetsWhatTheSameMeterDoesWrong() {
    Comparison.Drift drift = drift("C-1");
    assertEquals(10, drift.change().value(), SUM);
    // Two readings with a noise of 2 ppm each.
    assertEquals(Math.sqrt(8), drift.change().uncertainty().orElseThrow().standard(), 1e-9);
    assertEquals(List.of("meter gain"), drift.change().cancelled());
    assertTrue(drift.change().significant());
  }

  @Test
  void aMeterThatWasCalibratedInBetweenIsAnother() {
    Comparison.Drift drift = drift("C-2");
    assertEquals(
        Math.sqrt(2 * 15 * 15 + 8), drift.change().uncertainty().orElseThrow().standard(), 1e-9);
    assertEquals(List.of(), drift.change().cancelled());
    assertFalse(drift.change().significant());
  }

  /** Measurement Systems Analysis reference manual, 10 parts, 3 appraisers, 3 trials. */
  @Test
  void aGaugeStudyOfRunsIsThePublishedOne() {
    Reference.rows("grr/msa4_10x3x3.csv")
        .forEach(
            r ->
                batch.run(
                    Order.of("U" + r.get("part"))
                        .by("operator " + r.get("appraiser"))
                        .titled("gauge study"),
                    List.of(error(Reference.number(r, "value")))));
    Comparison c = batch.compared();
    assertEquals(1, c.gauges().size());
    Comparison.Gauge gauge = c.gauges().get(0);
    JsonNode expected =
        Reference.json("grr/msa4_10x3x3.json")
            .get("without_interaction_pooled")
            .get("clamped_at_zero");
    GaugeStudy.Components found = gauge.study().components();
    assertTrue(gauge.study().pooled());
    assertEquals(ComparisonFactor.OPERATOR, gauge.across());
    JsonNode variance = expected.get("variance");
    assertEquals(variance.get("repeatability").asDouble(), found.repeatability(), 1e-9);
    assertEquals(variance.get("appraiser").asDouble(), found.operator(), 1e-9);
    assertEquals(variance.get("part").asDouble(), found.unit(), 1e-9);
    assertEquals(
        expected.get("ndc").asDouble(), gauge.study().distinctCategories().orElseThrow(), 0);
    // 6 sd of the gauge over a tolerance of 200.
    double gaugeSd = Math.sqrt(variance.get("grr").asDouble());
    assertEquals(
        6 * gaugeSd / 200,
        gauge.study().ofTolerance(gauge.limit().orElseThrow()).orElseThrow(),
        1e-12);
  }

  @Test
  void aGaugeStudyThatLacksRunsSaysSo() {
    batch.run(Order.of("U1").by("Ada").titled("gauge study"), List.of(error(1)));
    batch.run(Order.of("U2").by("Ben").titled("gauge study"), List.of(error(2)));
    Comparison c = batch.compared();
    assertEquals(List.of(), c.gauges());
    assertTrue(
        c.notes().get(0).startsWith("no gauge study of current error of 1mA: 2 trials of 2 units"),
        c.notes().toString());
  }

  @Test
  void scatterFromConnectionToConnectionIsThatOfTheMeans() {
    double[] connectionsPpm = {3, -1, 2, 0, -4, 5, 1, -2, -3, -1};
    batch.run(
        Order.of("REF").titled("set-up reproducibility"),
        RunOrigin.BENCH,
        List.of(error(0)),
        w -> insertions(w, connectionsPpm));
    Comparison.SetUpStudy study = batch.compared().setUps().get(0);
    double squares = 0;
    for (double ppm : connectionsPpm) {
      squares += ppm * ppm;
    }
    assertEquals(Math.sqrt(squares / 9), study.connectionsPpm().sd(), 1e-6);
    assertTrue(study.connectionsPpm().enoughForReproducibility());
    // Four readings 1 and 3 ppm to either side: sd sqrt(20/3), over sqrt(4).
    assertEquals(Math.sqrt(20 / 3.0) / 2, study.noisePpm(), 1e-6);
    assertEquals(Math.sqrt(squares / 9 - 20 / 12.0), study.ownPpm(), 1e-6);
    String table = ComparisonTable.tables(batch.compared(), Optional.empty(), false);
    assertTrue(table.contains("{range: 1 mA, u: 2.47 ppm, connections: 10}"), table);
  }

  private static void insertions(RunWriter writer, double[] connectionsPpm) {
    PointConditions c =
        PointConditions.NONE
            .inRange("1mA", 1e-3)
            .atLoad(0, OptionalDouble.empty(), Optional.empty());
    for (int i = 0; i < connectionsPpm.length; i++) {
      List<Reading> readings = new ArrayList<>();
      for (double noise : new double[] {-3, -1, 1, 3}) {
        readings.add(reading(1e-3 * (1 + (connectionsPpm[i] + noise) * 1e-6)));
      }
      writer.commit(
          new Point(
              0,
              PointNumber.of(i + 1),
              "part " + i,
              PointKind.MEASURE,
              c,
              PointState.COMPLETE,
              "",
              Duration.ofSeconds(i),
              Duration.ofSeconds(i),
              PointSettings.NONE),
          readings,
          List.of());
    }
  }

  /** Read with a zero of 5 nA, which is not part of the current. */
  private static Reading reading(double currentA) {
    return new Reading(
        MeasuredSignal.CURRENT,
        "dmm1",
        ReadingState.NUMBER,
        OptionalDouble.of(currentA + 5e-9),
        OptionalDouble.of(5e-9),
        "raw",
        Instant.EPOCH,
        Duration.ZERO);
  }

  @Test
  void runsThatWereNeverJudgedNeitherPassNorFail() {
    Result unlimited = error(4);
    batch.run(
        Order.of("U1"),
        List.of(
            new Result(
                unlimited.quantity(),
                unlimited.range(),
                unlimited.at(),
                unlimited.outcome(),
                Optional.empty(),
                unlimited.budget(),
                unlimited.ppmBase(),
                unlimited.method(),
                unlimited.notes())));
    Comparison c = batch.compared();
    assertEquals(Map.of(), c.yields());
    assertEquals(Optional.empty(), only(c).limit());
    assertFalse(c.runs().get(0).passed());
  }

  private String paragraphs() {
    return String.join("\n", ComparisonTable.paragraphs(batch.compared()));
  }

  /** Nobody looks at 60 charts: 40 ppm from the first board to the last are said. */
  @Test
  void aDriftOverTheBoardsIsASentenceWithWhatEachOperatorSees() {
    for (int i = 0; i < 60; i++) {
      double ppm = 40.0 * i / 59 - 20 + (i * 7 % 11 - 5);
      batch.run(Order.of("U" + i).by(i % 2 == 0 ? "Ada" : "Ben"), List.of(error(ppm)));
    }
    String said = paragraphs();
    assertTrue(
        said.matches(
            "(?s).*Drift: current error of 1mA rises by"
                + " \\((39|40|41)\\.?\\d* \u00b1 [\\d.]+\\) ppm over 60 units, from run 1 \\(U0\\)"
                + " to run 60 \\(U59\\): (39|40|41) % of its limit\\..*"),
        said);
    assertTrue(said.contains("Within each operator: "), said);
    assertTrue(said.contains("Next: measure a reference unit again"), said);
  }

  @Test
  void aBatchThatCameInOneStretchIsToldApartFromADriftByWords() {
    for (int i = 0; i < 60; i++) {
      double ppm = 40.0 * i / 59 - 20 + (i * 7 % 11 - 5);
      batch.run(Order.of("U" + i).in("B" + i / 20), List.of(error(ppm)));
    }
    String said = paragraphs();
    assertTrue(said.contains("Batch B0 differs from the others in 1 quantity"), said);
    assertTrue(said.contains("Its units came one behind the other: it may be the drift."), said);
  }

  @Test
  void boardsThatAreAlikeNeitherDriftNorDiffer() {
    for (int i = 0; i < 60; i++) {
      batch.run(Order.of("U" + i).by(i % 2 == 0 ? "Ada" : "Ben"), List.of(error(i * 7 % 11 - 5)));
    }
    String said = paragraphs();
    assertFalse(said.contains("Drift") || said.contains("differs"), said);
    assertTrue(said.startsWith("60 runs of 60 units: All 60 units passed."), said);
  }

  @Test
  void twoBoardsHaveNoCapability() {
    board("U1", 3);
    board("U2", 5);
    assertEquals(Optional.empty(), statistics(batch.compared()).capability());
    assertTrue(paragraphs().contains("No capability is stated: 2 units tell none."), paragraphs());
  }
}
