// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.benches;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import millrace.PostgresServer;
import millrace.assessment.benches.BenchHistory.Reference;
import millrace.assessment.benches.BenchHistory.Span;
import millrace.assessment.benches.BenchHistory.Week;
import millrace.assessment.comparison.Batch;
import millrace.assessment.comparison.Batch.Order;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.evidence.setting.PointSettings;
import millrace.exchange.RecallCsv;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunFilter;
import millrace.logbook.RunWriter;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import millrace.report.json.BenchHistoryJson;
import millrace.report.table.BenchHistoryTable;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Nights that read a check standard of 1 mA, from a logbook and from a store. */
class CheckStandardNightsIT {
  /**
   * At 1 mA meter and standard are known to 2 sqrt(25^2/3 + 8^2/3 + 4.7^2) = 31.7 ppm: 25 ppm of
   * the reading and 4 ppm of 2 mA are half widths of rectangular distributions (JCGM 100:2008,
   * 4.3.7).
   */
  private static final String BENCH =
      """
      bench: north
      line frequency: 50 Hz
      before a change: source off
      safe order: [switch]
      instruments:
        ammeter:
          driver: scpi meter
          address: tcp 127.0.0.1:5025
          roles:
            current meter:
              input at most: 1 kV
              accuracy:
                - {range: 2 mA, reading: 25 ppm, full scale: 4 ppm, burden: 5 ohm}
        switch:
          driver: scpi switch
          address: tcp 127.0.0.1:5026
          roles:
            switch: {}
      wiring: {leads: 0.1 ohm}
      check standards:
        steady: {position: S, current: 1 mA, u: 4.7 nA}
      slots: {'1': '1'}
      """;

  /** The same, and nothing is stated of the meter. */
  private static final String UNSTATED =
      BENCH.replaceAll("(?m)^ *accuracy:\\n.*burden: 5 ohm}\\n", "");

  @TempDir private Path folder;
  @AutoClose private Batch batch;
  private int nights;

  @BeforeEach
  void openLogbook() {
    batch = new Batch(folder);
  }

  private static Reading reading(double ppm, int i) {
    return new Reading(
        MeasuredSignal.CURRENT,
        "ammeter",
        ReadingState.NUMBER,
        OptionalDouble.of(1e-3 * (1 + ppm * 1e-6) + 2e-9),
        OptionalDouble.of(2e-9),
        "",
        Instant.parse("2026-03-02T06:00:00Z").plusMillis(i),
        Duration.ofMillis(10_000 + i));
  }

  private static void look(RunWriter writer, int place, double ppm) {
    Point point =
        new Point(
            0,
            PointNumber.of(place),
            "check " + place,
            PointKind.CHECK_STANDARD,
            PointConditions.NONE,
            PointState.COMPLETE,
            "",
            Duration.ofSeconds(10),
            Duration.ofSeconds(12),
            PointSettings.of(Map.of("current meter range", "2 mA", "check standard", "steady")));
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      readings.add(reading(ppm + (i % 2 == 0 ? 1 : -1), i));
    }
    writer.commit(point, readings, List.of());
  }

  /** A night that reads the standard twice, a ppm apart. */
  private long night(double ppm, RunOrigin origin) {
    return night(ppm, origin, BENCH);
  }

  private long night(double ppm, RunOrigin origin, String bench) {
    nights++;
    return batch.run(
        Order.of("N-" + nights),
        origin,
        List.of(Batch.error(0)),
        w -> {
          Batch.instrument(w, "C-1");
          w.file(FileRole.BENCH, "bench.yaml", bench.getBytes(StandardCharsets.UTF_8));
          look(w, 1, ppm - 0.5);
          look(w, 2, ppm + 0.5);
        });
  }

  private long night(double ppm) {
    return night(ppm, RunOrigin.BENCH);
  }

  private void board(String unit) {
    batch.run(Order.of(unit), List.of(Batch.error(0)));
  }

  private List<BenchHistory> benches() {
    return BenchHistoryReader.of(batch.book());
  }

  @Test
  void theChartOfTheNightsSeesAMeterThatMovesWithinItsStatement() {
    for (int i = 0; i < 10; i++) {
      night(i % 3);
      batch.later(7);
    }
    long good = night(1);
    board("B-1");
    long out = night(12);
    board("B-2");
    long back = night(2);
    board("B-3");
    BenchHistory bench = benches().get(0);
    assertEquals(1, benches().size());
    assertEquals(Reference.CHECK_STANDARD, bench.by());
    assertEquals("steady", bench.reference());
    assertEquals("2 mA", bench.setUp());
    assertEquals(13, bench.checks().size());
    assertEquals(12, bench.checks().get(11).ppm().orElseThrow(), 1e-6);
    Span span = bench.spans().get(0);
    assertEquals(good, span.lastGood().orElseThrow().run().id());
    assertEquals(out, span.firstOut().run().id());
    assertEquals(back, span.nextGood().orElseThrow().run().id());
    // The unit of the night that was out is among them.
    assertEquals(
        List.of("B-1", "N-12", "B-2"), span.recall().stream().map(r -> r.start().unit()).toList());
    assertTrue(
        span.firstOut().findings().get(0).contains("12.0 ppm off what it drives, its chart"));
    StringWriter csv = new StringWriter();
    RecallCsv.write(benches(), csv);
    assertEquals(4, csv.toString().lines().count(), csv.toString());
    assertTrue(csv.toString().contains(",2 mA,check standard,steady,"), csv.toString());
    List<Week> weeks = bench.weeks();
    assertEquals(11, weeks.size());
    assertEquals(LocalDate.parse("2026-03-02"), weeks.get(0).monday());
    Week last = weeks.get(10);
    assertEquals(LocalDate.parse("2026-05-11"), last.monday());
    assertEquals(3, last.checks());
    assertEquals(1, last.out());
    assertEquals(5, last.ppm().orElseThrow(), 1e-6);
    assertTrue(last.share().orElseThrow() > 1);
    assertTrue(
        BenchHistoryTable.verdict(benches())
            .get(0)
            .startsWith("The current meter of bench 17 on 2 mA was good at its last check"),
        BenchHistoryTable.verdict(benches()).get(0));
  }

  /** Before there is a chart: what meter and standard are stated to be known to. */
  @Test
  void aMeterThatIsBeyondWhatIsStatedIsOutInItsFirstNight() {
    night(31);
    assertEquals(List.of(), benches().get(0).checks().get(0).findings());
    night(41);
    BenchHistory bench = benches().get(0);
    assertTrue(bench.isOut());
    String finding = bench.checks().get(1).findings().get(0);
    assertTrue(
        finding.startsWith(
            "check standard 'steady' on 2 mA is read 41.0 ppm off what it drives, beyond the 31.7"
                + " ppm that"),
        finding);
    assertTrue(BenchHistoryTable.verdict(benches()).get(0).contains(" is OUT since "));
  }

  /** One night says nothing by itself where nothing is stated. */
  @Test
  void aNightIsNotJudgedWithoutAStatementAndWithoutAChart() {
    for (int i = 0; i < 8; i++) {
      night(500 + i % 3, RunOrigin.BENCH, UNSTATED);
    }
    BenchHistory bench = benches().get(0);
    assertFalse(bench.isOut());
    assertFalse(bench.checks().get(7).good());
    String said = BenchHistoryTable.verdict(benches()).get(0);
    assertTrue(said.contains(" is not judged by its last check, "), said);
    assertTrue(said.contains(": its chart knows 7 of 8 nights, "), said);
    night(501, RunOrigin.BENCH, UNSTATED);
    assertTrue(benches().get(0).checks().get(8).good());
    night(501, RunOrigin.BENCH, "not a bench file");
    assertTrue(
        BenchHistoryTable.checks(benches()).contains("its bench file does not tell what the"),
        BenchHistoryTable.checks(benches()));
  }

  @Test
  void whatIsWithdrawnOrSimulatedIsInNoChart() {
    night(1, RunOrigin.SIMULATED);
    long whole = night(500);
    long part = night(1);
    Instant now = Instant.parse("2026-06-01T00:00:00Z");
    batch
        .book()
        .add(
            whole, new Remark(RemarkKind.DO_NOT_USE, OptionalLong.empty(), "lead off", "Ada", now));
    batch
        .book()
        .add(part, new Remark(RemarkKind.DO_NOT_USE, OptionalLong.of(1), "door", "Ada", now));
    BenchHistory bench = benches().get(0);
    assertEquals(1, bench.checks().size());
    assertEquals(1.5, bench.checks().get(0).ppm().orElseThrow(), 1e-6);
  }

  @Test
  void aStoreAnswersAsTheLogbookDoes() {
    for (int i = 0; i < 9; i++) {
      night(i % 3 + 0.1 * i);
      board("B-" + i);
    }
    night(20);
    board("B-9");
    StoreAddress address = StoreAddress.of(PostgresServer.get().store());
    try (SharedStore store = SharedStore.at(address)) {
      batch.book().runs(RunFilter.ALL).forEach(run -> store.publish(batch.book(), run));
    }
    try (Logbook there = SharedStore.logbook(address)) {
      List<BenchHistory> shared = BenchHistoryReader.of(there);
      assertTrue(shared.get(0).isOut());
      assertEquals(
          BenchHistoryJson.of(benches()).toString(), BenchHistoryJson.of(shared).toString());
      assertEquals(
          Optional.of(3L),
          shared.get(0).spans().stream().map(s -> (long) s.recall().size()).findFirst());
    }
  }
}
