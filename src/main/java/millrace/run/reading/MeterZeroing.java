// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.condition.ConditionSetter;
import millrace.run.condition.RunPosition;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.plausibility.SuspectReadings;
import millrace.sequence.MeasuringRules.SettleRule;
import millrace.sequence.Plan.PlannedPoint;

/**
 * Takes the zeros of the current meter, and refuses one with which current still flows.
 * Single-threaded.
 */
public final class MeterZeroing {
  /** The largest reading that is accepted as a zero, as a share of the nominal current. */
  private static final double MOST = 1e-3;

  private final RunComponents workers;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final ConditionSetter conditionSetter;
  private final PointMeasurer pointReader;
  private final MeterZeros zeros;

  /**
   * Takes the zeros of one run.
   *
   * @param workers who sets, reads and waits
   */
  public MeterZeroing(RunComponents workers) {
    this.journal = workers.journal();
    this.waiting = workers.waiting();
    this.conditionSetter = workers.station();
    this.pointReader = workers.taker();
    this.zeros = workers.zeros();
    this.workers = workers;
  }

  /** The meter's own reading with no current in it (methods.md 1.4). */
  public Point take(PlannedPoint point) {
    BegunPoint begun = BegunPoint.of(point, PointKind.ZERO, journal.elapsed());
    return take(point, begun, point.conditions());
  }

  /** The same for what a check standard drives: the meter is set up for that. */
  public Point take(PlannedPoint point, String key, PointConditions meters) {
    BegunPoint begun =
        BegunPoint.within(point, key, PointKind.ZERO, point.conditions(), journal.elapsed());
    return take(point, begun, meters);
  }

  private Point take(PlannedPoint point, BegunPoint begun, PointConditions meters) {
    String range = meters.range().orElse("");
    zeros.begin(range);
    double nominal = Math.abs(meters.nominalA().orElse(0));
    conditionSetter.isolate();
    conditionSetter.prepareMeters(meters, point.rules().readings().lineCycles());
    waiting.sleep(TimeSpanSeconds.ofSeconds(point.rules().settle().waitS()));
    List<Reading> readings = new ArrayList<>();
    Optional<String> restless = decayed(point, nominal, readings);
    int count = point.rules().readings().count();
    for (int i = 0; i < count; i++) {
      String once = i == 0 && conditionSetter.readByHand() ? ", once its display stands still" : "";
      conditionSetter.reading(RunPosition.reading(i + 1, count) + once);
      readings.add(pointReader.bareCurrent());
    }
    conditionSetter.reading("");
    Optional<String> apart = pointReader.agreed(readings, "zero", pointReader::bareCurrent);
    pointReader.surroundings(readings);
    OptionalDouble mean = Reading.numbers(readings, MeasuredSignal.CURRENT).average();
    Optional<String> trouble = restless.or(() -> apart).or(() -> noZero(nominal, mean));
    if (trouble.isEmpty()) {
      zeros.take(range, conditionSetter.settings(), mean.orElseThrow());
    }
    return workers.commit(begun, readings, trouble);
  }

  /**
   * Reads until the current has decayed: what is left of it would be subtracted from every later
   * reading. Once single readings show noise only, it waits as long again. Readings taken meanwhile
   * are kept as suspect.
   *
   * @return why the point is flagged; empty if the meter stands still
   */
  private Optional<String> decayed(PlannedPoint point, double nominal, List<Reading> into) {
    SettleRule rule = point.rules().settle();
    StandstillDetector still = new StandstillDetector(SettleRule.NO_STEP_OF_ZERO * nominal);
    Duration from = journal.elapsed();
    Duration until = from.plus(TimeSpanSeconds.ofSeconds(rule.atMostS()));
    Optional<Duration> enough = Optional.empty();
    while (!conditionSetter.readByHand()) {
      waiting.look();
      Reading reading = pointReader.bareCurrent();
      into.add(SuspectReadings.one(reading));
      boolean stands = reading.value().isPresent() && still.after(reading.value().getAsDouble());
      Duration now = journal.elapsed();
      if (enough.isEmpty() && stands) {
        enough = Optional.of(now.plus(now).minus(from));
      } else if (enough.filter(e -> now.compareTo(e) >= 0).isPresent()) {
        return Optional.empty();
      } else if (enough.isEmpty() && now.compareTo(until) > 0) {
        return reading.value().stream()
            .mapToObj(z -> "the zero still moved when the longest wait was over")
            .findFirst();
      }
    }
    return Optional.empty();
  }

  private static Optional<String> noZero(double nominal, OptionalDouble mean) {
    if (mean.isEmpty()) {
      return Optional.of("the zero gave no number");
    }
    return nominal == 0 || Math.abs(mean.getAsDouble()) <= MOST * nominal
        ? Optional.empty()
        : Optional.of(
            "%s flows with the source off, more than %s of the nominal current; this zero is not used. Look for a source that is not off, or a leak"
                .formatted(
                    QuantityText.print(mean.getAsDouble(), Dimension.CURRENT, 3),
                    QuantityText.print(MOST, Dimension.RATIO, 1)));
  }
}
