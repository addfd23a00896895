// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.range.RangeAssessor;
import millrace.assessment.reduction.ReducedPoint;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.OpenBook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** A trial goes through the formulas that the measured points went through. */
class RangeTrialsTest {
  private static final JudgementBasis BASIS =
      new JudgementBasis(
          Optional.empty(), Optional.empty(), Optional.empty(), List.of(), Optional.empty(), "");

  /** Of the current; the order of sums differs. */
  private static final double ROUNDING = 1e-9;

  /** Loads of a search and the share of the current that flows there: the knee is at 5.5 V. */
  private static final double[][] SEARCH = {
    {0, 1}, {2000, 1}, {4000, 1}, {5600, 0.98}, {6000, 0.92}, {6500, 0.85}, {7000, 0.79}
  };

  @RegisterExtension private final OpenBook book = new OpenBook();
  private List<ReducedPoint> all;
  private RangeAssessor measured;
  private RangeTrials trials;

  @BeforeEach
  void aNightWithASearchForTheKneeAtEachTemperature() {
    List<ReducedPoint> points =
        BenchRun.reduced(BenchRun.night(book.logbook(), 2e9, 4e-6, 13, 23, 33, 23));
    all = new ArrayList<>(points);
    for (int first = 0; first < points.size(); first += 6) {
      for (double[] step : SEARCH) {
        all.add(knee(points.get(first), step[0], step[1]));
      }
    }
    measured = new RangeAssessor("1mA", all, BASIS);
    trials = new RangeTrials(Map.of("1mA", measured), BASIS, points);
  }

  private static ReducedPoint knee(ReducedPoint at, double ohm, double share) {
    Point p = at.point();
    Estimate current = at.currentA().times(share);
    return new ReducedPoint(
        new Point(
            0,
            p.number(),
            p.key() + " knee " + ohm,
            PointKind.KNEE,
            BenchRun.at(p.conditions().temperatureDegC().orElseThrow(), ohm),
            p.state(),
            "",
            p.started(),
            p.ended(),
            p.settings()),
        at.name() + " knee " + ohm,
        at.stay(),
        at.timeS(),
        current,
        current.times(ohm),
        at.temperatureDegC(),
        false,
        List.of());
  }

  /** The points of a trial in which every error was drawn as nothing. */
  private List<List<ReducedPoint>> unmoved() {
    List<ReducedPoint> points = measured.all();
    double[] drawn = new double[3 * points.size()];
    for (int i = 0; i < points.size(); i++) {
      drawn[3 * i] = points.get(i).currentA().value();
      drawn[3 * i + 1] = points.get(i).voltageV().value();
      drawn[3 * i + 2] = points.get(i).temperatureDegC().orElseThrow().value();
    }
    List<ReducedPoint> moved = new ArrayList<>();
    for (ReducedPoint light : new TrialPoints(points).light()) {
      moved.add(TrialPoints.moved(light, drawn, 3 * moved.size()));
    }
    return List.of(moved);
  }

  private boolean[][] over(boolean each) {
    boolean[] over = new boolean[measured.results().size()];
    Arrays.fill(over, each);
    return new boolean[][] {over};
  }

  @Test
  void aTrialWithoutErrorsGivesEveryMeasuredValue() {
    List<Result> now = trials.of(unmoved()::get, over(false)).get(0);

    assertEquals(measured.results().size(), now.size());
    List<Result> values =
        notEmpty(
            measured.results().stream()
                .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
                .toList());
    assertTrue(
        values.stream().anyMatch(r -> r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE),
        () -> values.toString());
    for (int i = 0; i < now.size(); i++) {
      Result first = measured.results().get(i);
      if (first.outcome() instanceof ComputationOutcome.Value value) {
        double again =
            assertInstanceOf(
                    ComputationOutcome.Value.class, now.get(i).outcome(), () -> first.toString())
                .value();
        assertEquals(value.value(), again, ROUNDING * Math.abs(value.value()), first::toString);
      }
    }
  }

  @Test
  void aRangeWhoseTrialsAreOverIsNotComputedAgain() {
    assertEquals(List.of(List.of()), trials.of(unmoved()::get, over(true)));
  }

  /** What a trial computes besides does not matter to the one result that is still asked for. */
  @Test
  void eachResultAloneIsThatOfAllTogether() {
    List<Result> together = trials.of(shifted()::get, over(false)).get(0);
    for (int i = 0; i < together.size(); i++) {
      boolean[][] over = over(true);
      over[0][i] = false;
      List<Result> alone = trials.of(shifted()::get, over).get(0);
      assertEquals(together.size(), alone.size());
      assertEquals(together.get(i), alone.get(i));
    }
  }

  /** A trial that moves each point by its own amount. */
  private List<List<ReducedPoint>> shifted() {
    List<ReducedPoint> moved = new ArrayList<>();
    for (ReducedPoint p : unmoved().get(0)) {
      double share = 1 + 1e-8 * (moved.size() % 7);
      moved.add(p.withCurrent(p.currentA().times(share)));
    }
    return List.of(moved);
  }
}
