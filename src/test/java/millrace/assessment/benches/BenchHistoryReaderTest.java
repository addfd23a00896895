// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.benches;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import millrace.assessment.benches.BenchHistory.Span;
import millrace.assessment.comparison.Batch;
import millrace.assessment.comparison.Batch.Order;
import millrace.evidence.RunOrigin;
import millrace.exchange.RecallCsv;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.report.json.BenchHistoryJson;
import millrace.report.table.BenchHistoryTable;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BenchHistoryReaderTest {
  @TempDir private Path folder;
  @AutoClose private Batch batch;

  @BeforeEach
  void openLogbook() {
    batch = new Batch(folder);
  }

  private static Order order(String unit, ProductionRunPurpose purpose) {
    return new Order(
        unit,
        RunStart.People.NONE,
        RunFacts.NONE.tested(purpose, 1, Optional.empty()),
        "board test");
  }

  private long check(double ppm) {
    return batch.run(order("REF-1", ProductionRunPurpose.CHECK), List.of(Batch.error(ppm)));
  }

  private long board(String unit) {
    return batch.run(order(unit, ProductionRunPurpose.BOARD), List.of(Batch.error(0)));
  }

  private List<BenchHistory> benches() {
    return BenchHistoryReader.of(batch.book());
  }

  /** A limit of 100 ppm: what was tested between the last good check and the next good one. */
  @Test
  void recallsWhatWasTestedWhileTheBenchWasOrMayHaveBeenOut() {
    board("B-1");
    long good = check(1);
    board("B-2");
    board("B-3");
    long out = check(500);
    board("B-4");
    long mended = check(2);
    board("B-5");
    BenchHistory bench = benches().get(0);
    assertEquals(1, benches().size());
    assertFalse(bench.isOut());
    assertEquals(1, bench.spans().size());
    Span span = bench.spans().get(0);
    assertEquals(good, span.lastGood().orElseThrow().run().id());
    assertEquals(out, span.firstOut().run().id());
    assertEquals(mended, span.nextGood().orElseThrow().run().id());
    assertEquals(
        List.of("B-2", "B-3", "B-4"), span.recall().stream().map(r -> r.start().unit()).toList());
    StringWriter csv = new StringWriter();
    RecallCsv.write(benches(), csv);
    assertEquals(4, csv.toString().lines().count(), csv.toString());
    List<String> said = BenchHistoryTable.verdict(benches());
    assertTrue(
        said.get(0).startsWith("Bench 17 with fixture 1 with cables 1 was good"), said.get(0));
    assertTrue(
        said.get(1).contains("current error of 1mA: outside its limit")
            && said.get(1).contains(": 3 units. Test them again"),
        said.get(1));
  }

  @Test
  void aBenchThatIsStillOutStandsFirst() {
    check(1);
    board("B-1");
    check(-400);
    board("B-2");
    BenchHistory bench = benches().get(0);
    assertTrue(bench.isOut());
    assertTrue(bench.spans().get(0).nextGood().isEmpty());
    assertEquals(2, bench.spans().get(0).recall().size());
    assertTrue(BenchHistoryTable.verdict(benches()).get(0).contains(" is OUT since "));
    assertTrue(BenchHistoryJson.of(benches()).at("/benches/0/out").asBoolean());
    assertTrue(BenchHistoryJson.of(benches()).at("/benches/0/out_spans/0/next_good_run").isNull());
  }

  /** Within the limit of 100 ppm, and far from what the bench measured eight times before. */
  @Test
  void theChartOfTheReferenceUnitSeesWhatTheLimitDoesNot() {
    for (int i = 0; i < 10; i++) {
      check(i % 3);
    }
    board("B-1");
    long out = check(40);
    Span span = benches().get(0).spans().get(0);
    assertEquals(out, span.firstOut().run().id());
    assertTrue(span.firstOut().findings().get(0).contains("its chart allows"));
    assertEquals(1, span.recall().size());
  }

  @Test
  void simulatedChecksAreNoneOfABench() {
    batch.run(
        order("REF-1", ProductionRunPurpose.CHECK),
        RunOrigin.SIMULATED,
        List.of(Batch.error(0)),
        w -> {});
    assertEquals(List.of(), benches());
  }
}
