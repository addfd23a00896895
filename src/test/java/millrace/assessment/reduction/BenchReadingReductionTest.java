// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import static millrace.assessment.BenchRun.at;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.BenchRun;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.ReadingState;
import millrace.logbook.OpenBook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** What a meter, its zero and its wiring make of readings; expected values by Ohm's law. */
class BenchReadingReductionTest {
  /** Leads and burden of the bench file. */
  private static final double IN_LOOP_OHM = 2;

  /** 100 ppm of reading, rectangular: half-width over the root of three (JCGM 100:2008, 4.3.7). */
  private static final double GAIN = 100e-6 / Math.sqrt(3);

  @RegisterExtension private final OpenBook book = new OpenBook();

  private static BenchRun reading(BenchRun run, double amperes) {
    return run.reads(MeasuredSignal.CURRENT, amperes + 1e-10)
        .reads(MeasuredSignal.CURRENT, amperes - 1e-10);
  }

  private List<ReducedPoint> reduced(BenchRun run) {
    return BenchRun.reduced(run.ended(book.logbook()));
  }

  @Test
  void theVoltageIsThatOfEverythingInSeries() {
    BenchRun run = BenchRun.begun(book.logbook());
    reading(run, 1e-3).commits(PointKind.MEASURE, at(23, 4700));

    List<ReducedPoint> found = reduced(run);

    assertEquals(1, found.size());
    assertEquals(1e-3, found.get(0).currentA().value(), 1e-15);
    assertEquals(1e-3 * (4700 + IN_LOOP_OHM), found.get(0).voltageV().value(), 1e-9);
  }

  @Test
  void aZeroIsTakenOffWhatFollowsIt() {
    BenchRun run = BenchRun.begun(book.logbook());
    reading(run, 5e-9).commits(PointKind.ZERO, at(23, 0)).zeroed(5e-9);
    reading(run, 1e-3).commits(PointKind.MEASURE, at(23, 100));

    List<ReducedPoint> found = reduced(run);

    assertEquals(1, found.size());
    assertEquals(1e-3 - 5e-9, found.get(0).currentA().value(), 1e-16);
  }

  @Test
  void theGainOfOneRangeIsOneErrorAndCancelsBetweenItsPoints() {
    BenchRun run = BenchRun.begun(book.logbook());
    reading(run, 1.00e-3).commits(PointKind.MEASURE, at(23, 100));
    reading(run, 0.99e-3).commits(PointKind.MEASURE, at(23, 5000));

    List<ReducedPoint> found = reduced(run);

    assertEquals(2, found.size());
    Estimate one = found.get(0).currentA();
    Estimate difference = one.minus(found.get(1).currentA());
    assertTrue(one.standardUncertainty(s -> !s.pointWise()) >= GAIN * 1e-3);
    assertEquals(
        GAIN * 1e-5, difference.standardUncertainty(s -> !s.pointWise()), 0.2 * GAIN * 1e-5);
  }

  @Test
  void aPointWithoutCurrentIsLeftOutAndSuspectReadingsAreSaid() {
    BenchRun run = BenchRun.begun(book.logbook());
    run.reads(MeasuredSignal.CURRENT, ReadingState.OVERLOAD, OptionalDouble.empty())
        .commits(PointKind.MEASURE, at(23, 100));
    reading(run, 1e-3)
        .reads(MeasuredSignal.CURRENT, ReadingState.SUSPECT, OptionalDouble.of(9e-3))
        .commits(PointKind.MEASURE, at(23, 200));

    List<ReducedPoint> found = reduced(run);

    assertEquals(1, found.size());
    assertEquals(1e-3, found.get(0).currentA().value(), 1e-15);
    assertEquals(1, found.get(0).notes().size());
    assertTrue(
        found.get(0).notes().get(0).startsWith("1 reading off its neighbours is left out"),
        found.get(0).notes().toString());
  }
}
