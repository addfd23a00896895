// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import static millrace.assessment.BenchRun.at;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.assessment.Assessor;
import millrace.assessment.BenchRun;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.logbook.GroupedTransactions;
import millrace.logbook.OpenBook;
import millrace.logbook.RunReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** What is told of the points of a run: all count, few are kept. */
class RunPointSummaryTest {
  private static final int MORE = 25;

  @RegisterExtension private final OpenBook book = new OpenBook();

  /** Three stays of short points, too many to be listed. */
  private RunReader run() {
    try (GroupedTransactions together = book.logbook().bulk(Integer.MAX_VALUE)) {
      BenchRun run = BenchRun.begun(book.logbook());
      for (int i = 0; i < RunPointSummary.LISTED + MORE; i++) {
        double degC = i < 1000 ? 23 : i < 2000 ? 40 : 5;
        run.reads(MeasuredSignal.CURRENT, 1e-3)
            .commits(i % 1000 == 0 ? PointKind.ZERO : PointKind.MEASURE, at(degC, i % 7 * 100));
      }
      RunReader reader = run.ended(book.logbook());
      together.finish();
      return reader;
    }
  }

  @Test
  void allPointsCountAndTheFirstOfThemAreKept() {
    RunReader reader = run();

    RunPointSummary points = new RunPointSummary(reader, Assessor.assess(reader));

    List<Point> every = reader.points();
    assertEquals(every.size(), points.count());
    assertEquals(every.subList(0, RunPointSummary.LISTED), points.first());
    assertEquals(Map.of("zero", 4, "measure", RunPointSummary.LISTED + MORE - 4), points.taken());
    assertEquals(every.stream().map(ReportAnchors.Group::of).distinct().toList(), points.groups());
    assertEquals(3, points.groups().size());
    assertEquals(Map.of("current meter range", Set.of("2 mA")), points.settings());
    assertEquals(0, points.fallenCount());
  }
}
