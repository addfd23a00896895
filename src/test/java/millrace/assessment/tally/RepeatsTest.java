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
import millrace.analysis.reduction.ReadingTally;
import millrace.assessment.tally.PointTally.Shape;
import millrace.assessment.tally.PointTally.StatedErrors;
import millrace.evidence.Conditions;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Signal;
import millrace.fault.NotAnalysableException;
import org.junit.jupiter.api.Test;

/** Expected values follow from the arithmetic mean, by hand. */
class RepeatsTest {
  private static final double U = 2e-9;

  private static PointTally point(long number, double ohm, double degC) {
    Conditions at =
        new Conditions(
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
    return new PointTally(
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
            Map.of()),
        Map.of(Signal.CURRENT, ReadingTally.statisticsOf(1e-3 + number * 1e-12)),
        Map.of(),
        OptionalDouble.empty(),
        Map.of(
            Signal.CURRENT,
            new StatedErrors(OptionalDouble.of(U), Shape.NORMAL, 1e-10, 0, "g", "")),
        number);
  }

  private static Repeats all(int count, IntToDoubleFunction ohm, IntToDoubleFunction degC) {
    Repeats repeats = new Repeats(count);
    for (int k = 0; k < count; k++) {
      repeats.add(point(k, ohm.applyAsDouble(k), degC.applyAsDouble(k)));
    }
    return repeats;
  }

  @Test
  void leavesAloneWhatIsNotTooMuch() {
    Repeats repeats = all(20_000, k -> 100, k -> 23);
    assertEquals(20_000, repeats.points().size());
    assertTrue(repeats.notes().isEmpty());
  }

  @Test
  void takesRepeatsUnderEqualConditionsTogetherAsOne() {
    Repeats repeats = all(100_000, k -> 100 * (k % 10), k -> 23);
    List<PointTally> points = repeats.points();
    assertEquals(20_000, points.size());
    // Points 0, 10, 20, 30 and 40.
    PointTally first = points.get(0);
    assertEquals(5, first.of(Signal.CURRENT).orElseThrow().n());
    assertEquals(1e-3 + 20e-12, first.mean(Signal.CURRENT).getAsDouble(), 1e-18);
    assertEquals(20, first.timeS(), 1e-12);
    StatedErrors stated = first.stated().get(Signal.CURRENT);
    assertEquals(U / Math.sqrt(5), stated.u().getAsDouble(), 1e-20);
    assertEquals(1e-10, stated.common());
    assertEquals(
        List.of("100000 points: up to 5 repeats under equal conditions are taken together as one"),
        repeats.notes());
  }

  @Test
  void keepsVisitsToATemperatureApart() {
    Repeats repeats = all(60_000, k -> 100, k -> 23 + 10 * (k / 20_000 % 2));
    List<PointTally> points = repeats.points();
    assertEquals(3 * 6_667, points.size());
    assertEquals(2, points.get(6_666).of(Signal.CURRENT).orElseThrow().n());
  }

  @Test
  void takesVisitsTogetherWhereThereAreThousands() {
    Repeats repeats = all(100_000, k -> 100, k -> 23 + 10 * (k % 2));
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
