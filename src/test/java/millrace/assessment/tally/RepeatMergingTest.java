// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import millrace.analysis.reduction.ReadingAccumulator;
import millrace.assessment.tally.PointReadingTally.Shape;
import millrace.assessment.tally.PointReadingTally.StatedErrors;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.setting.PointSettings;
import millrace.fault.NotAnalysableException;
import org.junit.jupiter.api.Test;

/** Expected values follow from the arithmetic mean, by hand. */
class RepeatMergingTest {
  private static final double U = 2e-9;

  private static PointReadingTally point(long number, double ohm, double degC) {
    PointConditions at =
        new PointConditions(
            Optional.of("1mA"),
            OptionalDouble.of(1e-3),
            OptionalDouble.of(degC),
            OptionalDouble.of(ohm),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty(),
            Optional.empty(),
            0);
    return new PointReadingTally(
        new Point(
            number,
            PointNumber.of((int) number + 1),
            "p" + number,
            PointKind.MEASURE,
            at,
            PointState.COMPLETE,
            "",
            Duration.ZERO,
            Duration.ZERO,
            PointSettings.NONE),
        Map.of(MeasuredSignal.CURRENT, ReadingAccumulator.statisticsOf(1e-3 + number * 1e-12)),
        Map.of(),
        OptionalDouble.empty(),
        Map.of(
            MeasuredSignal.CURRENT,
            new StatedErrors(OptionalDouble.of(U), Shape.NORMAL, 1e-10, 0, "g", "")),
        number);
  }

  private static RepeatMerging all(int count, IntToDoubleFunction ohm, IntToDoubleFunction degC) {
    RepeatMerging repeats = new RepeatMerging(count);
    for (int k = 0; k < count; k++) {
      repeats.add(point(k, ohm.applyAsDouble(k), degC.applyAsDouble(k)));
    }
    return repeats;
  }

  @Test
  void leavesAloneWhatIsNotTooMuch() {
    RepeatMerging repeats = all(20_000, k -> 100, k -> 23);
    assertEquals(20_000, repeats.points().size());
    assertTrue(repeats.notes().isEmpty());
  }

  @Test
  void takesRepeatsUnderEqualConditionsTogetherAsOne() {
    RepeatMerging repeats = all(100_000, k -> 100 * (k % 10), k -> 23);
    List<PointReadingTally> points = repeats.points();
    assertEquals(20_000, points.size());
    // Points 0, 10, 20, 30 and 40.
    PointReadingTally first = points.get(0);
    assertEquals(5, first.of(MeasuredSignal.CURRENT).orElseThrow().n());
    assertEquals(1e-3 + 20e-12, first.mean(MeasuredSignal.CURRENT).getAsDouble(), 1e-18);
    assertEquals(20, first.timeS(), 1e-12);
    StatedErrors stated = first.stated().get(MeasuredSignal.CURRENT);
    assertEquals(U / Math.sqrt(5), stated.u().getAsDouble(), 1e-20);
    assertEquals(1e-10, stated.common());
    assertEquals(
        List.of("100000 points: up to 5 repeats under equal conditions are taken together as one"),
        repeats.notes());
  }

  @Test
  void keepsVisitsToATemperatureApart() {
    RepeatMerging repeats = all(60_000, k -> 100, k -> 23 + 10 * (k / 20_000 % 2));
    List<PointReadingTally> points = repeats.points();
    assertEquals(3 * 6_667, points.size());
    assertEquals(2, points.get(6_666).of(MeasuredSignal.CURRENT).orElseThrow().n());
  }

  @Test
  void takesVisitsTogetherWhereThereAreThousands() {
    RepeatMerging repeats = all(100_000, k -> 100, k -> 23 + 10 * (k % 2));
    assertTrue(repeats.points().size() <= 21_000, "blocks: " + repeats.points().size());
    assertTrue(repeats.notes().get(0).contains("several visits"), repeats.notes().get(0));
  }

  @Test
  void refusesMoreConditionsThanCanBeAnalysed() {
    NotAnalysableException refused =
        assertThrows(NotAnalysableException.class, () -> all(70_000, k -> k, k -> 23));
    assertTrue(refused.getMessage().startsWith("more than 60000 points under different"));
  }
}
