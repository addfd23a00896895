// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.datasheet.Datasheet;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.condition.ConditionSetter;
import millrace.run.control.OperatorPrompt;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.run.plausibility.PlausibilityCheck;
import millrace.run.reading.BegunPoint;
import millrace.run.reading.PointMeasurer;
import millrace.run.reading.PointMeasurer.Taken;
import millrace.run.reading.ReadingMeans;
import millrace.run.reading.RunComponents;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/**
 * Takes the readings of the trial lap of one unit, before the chamber moves: zeros first, then
 * every range by rising load; {@link TrialLap} judges them. Single-threaded.
 */
public final class TrialLapRun {
  private static final int MOST_ZEROS = 20;
  private static final ReadingRule READINGS =
      new ReadingRule(3, 1, Optional.empty(), 3, ReadingRule.EVERY, false);

  private final RunContext setting;
  private final RunComponents workers;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final ConditionSetter conditionSetter;
  private final PointMeasurer pointReader;
  private final PlausibilityCheck plausibilityCheck;

  /**
   * The trial lap of one run.
   *
   * @param setting what the run was given
   * @param workers who sets, reads and waits
   * @param plausibilityCheck says what cannot be right
   */
  public TrialLapRun(
      RunContext setting, RunComponents workers, PlausibilityCheck plausibilityCheck) {
    this.setting = setting;
    this.workers = workers;
    this.journal = workers.journal();
    this.waiting = workers.waiting();
    this.conditionSetter = workers.station();
    this.pointReader = workers.taker();
    this.plausibilityCheck = plausibilityCheck;
  }

  /**
   * Reads every range into a short and into half its compliance voltage, before the chamber moves.
   */
  public List<Point> lap(PlannedPoint point, Task.TrialLap task) {
    List<Point> points = new ArrayList<>();
    TrialLap lap = new TrialLap(setting.bench(), setting.datasheet(), conditionSetter, waiting);
    room(lap);
    setting.datasheet().ranges().values().forEach(r -> points.add(zero(point, r)));
    for (Datasheet.Range range : setting.datasheet().ranges().values()) {
      List<WiringFaultFinder.Look> looks = new ArrayList<>();
      Optional<PlausibilityCheck.Doubt> doubt = Optional.empty();
      List<PointConditions> stops =
          TrialLapLoads.of(point.conditions(), setting.datasheet(), range, setting.plan().plan());
      for (PointConditions stop : stops) {
        lap.settle(stop);
        Taken taken = pointReader.measure(stop, READINGS);
        WiringFaultFinder.Look look = look(stop, taken);
        looks.add(look);
        doubt = plausibilityCheck.doubt(stop, taken.readings());
        points.add(commit(point, TrialLap.key(point.key(), stop), stop, taken, look));
      }
      lap.judge(looks, range);
      if (doubt.isPresent()) {
        throw TrialLap.failed(doubt.get(), stops.get(1));
      }
    }
    if (setting.writers().several()) {
      slot(point.conditions().slot().orElse(""), task, lap);
    }
    return points;
  }

  private void slot(String slot, Task.TrialLap task, TrialLap lap) {
    List<String> all =
        setting.plan().plan().points().stream()
            .flatMap(p -> p.conditions().slot().stream())
            .distinct()
            .toList();
    Optional<OperatorPrompt> asked = Optional.of(setting.operator()).filter(o -> task.asksSlots());
    lap.judgeSlot(slot, all, asked, journal::incident);
    waiting.goodReading();
  }

  /** Checks humidity, dew point and the temperature bands of accuracy statements. */
  private void room(TrialLap lap) {
    List<Reading> around = new ArrayList<>();
    pointReader.surroundings(around);
    lap.judgeRoom(
            Reading.numbers(around, MeasuredSignal.LAB_TEMPERATURE).findFirst(),
            Reading.numbers(around, MeasuredSignal.HUMIDITY).findFirst(),
            setting.plan().plan())
        .forEach(text -> journal.incident(IncidentKind.CAUTION, text));
  }

  /** Called before the source was on; a current of an earlier step gets a little time to decay. */
  private Point zero(PlannedPoint point, Datasheet.Range range) {
    PointConditions with = point.conditions().inRange(range.name(), range.nominalA());
    BegunPoint begun =
        BegunPoint.within(
            point,
            point.key() + "/" + range.name() + "/zero",
            PointKind.TRIAL,
            with,
            journal.elapsed());
    conditionSetter.isolate();
    conditionSetter.prepareMeters(with, 1);
    List<Reading> readings = new ArrayList<>();
    Optional<String> wrong = Optional.empty();
    for (int tries = 0; tries == 0 || (wrong.isPresent() && tries < MOST_ZEROS); tries++) {
      waiting.sleep(TimeSpanSeconds.ofSeconds(0.5));
      Reading reading = pointReader.bareCurrent();
      readings.add(reading);
      wrong = TrialLap.noZero(reading.value(), range);
    }
    Point zero = workers.commit(begun, readings, wrong);
    if (wrong.isPresent()) {
      throw TrialLap.failed(wrong.get());
    }
    return zero;
  }

  private static WiringFaultFinder.Look look(PointConditions stop, Taken taken) {
    return new WiringFaultFinder.Look(
        stop.loadOhm().orElseThrow(),
        ReadingMeans.currentA(taken.readings()),
        ReadingMeans.voltageV(taken.readings()));
  }

  private Point commit(
      PlannedPoint point,
      String key,
      PointConditions stop,
      Taken taken,
      WiringFaultFinder.Look look) {
    boolean good = WiringFaultFinder.good(look, stop.nominalA().orElseThrow());
    BegunPoint begun = BegunPoint.within(point, key, PointKind.TRIAL, stop, journal.elapsed());
    return workers.commit(
        begun, taken.readings(), good ? taken.trouble() : Optional.of("the trial lap failed"));
  }
}
