// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.Signal;
import millrace.quantity.Spans;
import millrace.run.condition.Station;
import millrace.run.control.Operator;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.journal.RunSetting;
import millrace.run.plausibility.Plausible;
import millrace.run.reading.BegunPoint;
import millrace.run.reading.Means;
import millrace.run.reading.RunWorkers;
import millrace.run.reading.Taker;
import millrace.run.reading.Taker.Taken;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/**
 * Goes the trial lap of one unit, before the chamber moves: zeros first, then every range by rising
 * load; {@link TrialLap} judges. Single-threaded.
 */
public final class TrialLapRun {
  private static final int MOST_ZEROS = 20;
  private static final ReadingRule READINGS =
      new ReadingRule(3, 1, Optional.empty(), 3, ReadingRule.EVERY, false);

  private final RunSetting setting;
  private final RunWorkers workers;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final Station station;
  private final Taker taker;
  private final Plausible plausible;

  /**
   * The trial lap of one run.
   *
   * @param setting what the run was given
   * @param workers who sets, reads and waits
   * @param plausible says what cannot be right
   */
  public TrialLapRun(RunSetting setting, RunWorkers workers, Plausible plausible) {
    this.setting = setting;
    this.workers = workers;
    this.journal = workers.journal();
    this.waiting = workers.waiting();
    this.station = workers.station();
    this.taker = workers.taker();
    this.plausible = plausible;
  }

  /** Every range into a short and into half its compliance, before the chamber moves. */
  public List<Point> lap(PlannedPoint point, Task.TrialLap task) {
    List<Point> points = new ArrayList<>();
    TrialLap lap = new TrialLap(setting.bench(), setting.datasheet(), station, waiting);
    room(lap);
    setting.datasheet().ranges().values().forEach(r -> points.add(zero(point, r)));
    for (Datasheet.Range range : setting.datasheet().ranges().values()) {
      List<Wiring.Look> looks = new ArrayList<>();
      Optional<Plausible.Doubt> doubt = Optional.empty();
      List<Conditions> stops =
          TrialStops.of(point.conditions(), setting.datasheet(), range, setting.plan());
      for (Conditions stop : stops) {
        lap.settle(stop);
        Taken taken = taker.measure(stop, READINGS);
        Wiring.Look look = look(stop, taken);
        looks.add(look);
        doubt = plausible.doubt(stop, taken.readings());
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
        setting.plan().points().stream()
            .flatMap(p -> p.conditions().slot().stream())
            .distinct()
            .toList();
    Optional<Operator> asked = Optional.of(setting.operator()).filter(o -> task.asksSlots());
    lap.judgeSlot(slot, all, asked, journal::incident);
    waiting.goodReading();
  }

  /** Humidity, dew point and the bands that accuracies hold for. */
  private void room(TrialLap lap) {
    List<Reading> around = new ArrayList<>();
    taker.surroundings(around);
    lap.judgeRoom(
            Reading.numbers(around, Signal.LAB_TEMPERATURE).findFirst(),
            Reading.numbers(around, Signal.HUMIDITY).findFirst(),
            setting.plan())
        .forEach(text -> journal.incident(IncidentKind.CAUTION, text));
  }

  /** Before anything was live; what flowed in an earlier step is given a little time. */
  private Point zero(PlannedPoint point, Datasheet.Range range) {
    Conditions with = point.conditions().inRange(range.name(), range.nominalA());
    BegunPoint begun =
        BegunPoint.within(
            point,
            point.key() + "/" + range.name() + "/zero",
            PointKind.TRIAL,
            with,
            journal.elapsed());
    station.isolate();
    station.prepareMeters(with, 1);
    List<Reading> readings = new ArrayList<>();
    Optional<String> wrong = Optional.empty();
    for (int tries = 0; tries == 0 || (wrong.isPresent() && tries < MOST_ZEROS); tries++) {
      waiting.sleep(Spans.ofSeconds(0.5));
      Reading reading = taker.bareCurrent();
      readings.add(reading);
      wrong = TrialLap.noZero(reading.value(), range);
    }
    Point zero = workers.commit(begun, readings, wrong);
    if (wrong.isPresent()) {
      throw TrialLap.failed(wrong.get());
    }
    return zero;
  }

  private static Wiring.Look look(Conditions stop, Taken taken) {
    return new Wiring.Look(
        stop.loadOhm().orElseThrow(),
        Means.currentA(taken.readings()),
        Means.voltageV(taken.readings()));
  }

  private Point commit(
      PlannedPoint point, String key, Conditions stop, Taken taken, Wiring.Look look) {
    boolean good = Wiring.good(look, stop.nominalA().orElseThrow());
    BegunPoint begun = BegunPoint.within(point, key, PointKind.TRIAL, stop, journal.elapsed());
    return workers.commit(
        begun, taken.readings(), good ? taken.trouble() : Optional.of("the trial lap failed"));
  }
}
