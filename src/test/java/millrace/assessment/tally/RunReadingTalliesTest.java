// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import static millrace.assessment.BenchRun.at;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.assessment.BenchRun;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.ReadingState;
import millrace.logbook.OpenBook;
import millrace.logbook.RunReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** What a run's readings come to, point by point. */
class RunReadingTalliesTest {
  @RegisterExtension private final OpenBook book = new OpenBook();

  private static void watched(BenchRun run, int readings) {
    for (int i = 0; i < readings; i++) {
      run.reads(MeasuredSignal.CURRENT, 1e-3);
    }
  }

  @Test
  void aMeanLeavesSuspectReadingsOutAndKeepsThemBeside() {
    RunReader reader =
        BenchRun.begun(book.logbook())
            .reads(MeasuredSignal.CURRENT, 1.0e-3)
            .reads(MeasuredSignal.CURRENT, 1.2e-3)
            .reads(MeasuredSignal.CURRENT, ReadingState.SUSPECT, OptionalDouble.of(7e-3))
            .reads(MeasuredSignal.CURRENT, ReadingState.OVERLOAD, OptionalDouble.empty())
            .commits(PointKind.MEASURE, at(23, 100))
            .ended(book.logbook());

    List<PointReadingTally> points = RunReadingTallies.of(reader, Set.of()).points();

    assertEquals(1, points.size());
    PointReadingTally tally = points.get(0);
    assertEquals(1.1e-3, tally.mean(MeasuredSignal.CURRENT).orElseThrow(), 1e-18);
    assertEquals(2, tally.of(MeasuredSignal.CURRENT).orElseThrow().n());
    assertEquals(3, tally.withSuspects().get(MeasuredSignal.CURRENT).n());
    assertEquals(Optional.empty(), tally.of(MeasuredSignal.VOLTAGE));
  }

  @Test
  void aPointWithoutANumberHasNoMean() {
    RunReader reader =
        BenchRun.begun(book.logbook())
            .reads(MeasuredSignal.CURRENT, ReadingState.NOT_A_NUMBER, OptionalDouble.empty())
            .commits(PointKind.MEASURE, at(23, 100))
            .ended(book.logbook());

    List<PointReadingTally> points = RunReadingTallies.of(reader, Set.of()).points();

    assertEquals(1, points.size());
    assertTrue(points.get(0).mean(MeasuredSignal.CURRENT).isEmpty());
  }

  @Test
  void pointsAreToldApartByKindAndAWithdrawnOneIsLeftOut() {
    RunReader reader =
        BenchRun.begun(book.logbook())
            .reads(MeasuredSignal.CURRENT, 1e-9)
            .commits(PointKind.ZERO, at(23, 0))
            .reads(MeasuredSignal.CURRENT, 1e-3)
            .commits(PointKind.MEASURE, at(23, 100))
            .reads(MeasuredSignal.CURRENT, 2e-3)
            .commits(PointKind.MEASURE, at(23, 200))
            .ended(book.logbook());

    RunReadingTallies all = RunReadingTallies.of(reader, Set.of());
    RunReadingTallies less = RunReadingTallies.of(reader, Set.of(2L));

    assertEquals(3, all.points().size());
    assertEquals(1, all.points(PointKind.ZERO).size());
    assertEquals(2, all.points(PointKind.MEASURE).size());
    assertEquals(1, less.points(PointKind.MEASURE).size());
    assertEquals(
        2e-3,
        less.points(PointKind.MEASURE).get(0).mean(MeasuredSignal.CURRENT).orElseThrow(),
        1e-18);
  }

  @Test
  void whatIsWatchedIsARecordAndThePointsOfASweepAreNone() {
    BenchRun run = BenchRun.begun(book.logbook());
    for (int load = 0; load < 6; load++) {
      watched(run, 20);
      run.commits(PointKind.MEASURE, at(23, 100.0 * load));
    }
    watched(run, 60);
    run.commits(PointKind.TIME_SERIES, at(23, 0));

    RunReadingTallies tallies = RunReadingTallies.of(run.ended(book.logbook()), Set.of());

    assertEquals(1, tallies.records().size());
    assertEquals(60, tallies.records().get(0).size(MeasuredSignal.CURRENT));
    assertEquals(1, tallies.series(PointKind.TIME_SERIES).size());
    assertEquals(0, tallies.series(PointKind.SOAK).size());
  }
}
