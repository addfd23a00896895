// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.bench.role.Switch;
import millrace.datasheet.Datasheet;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.SweepDirection;
import millrace.evidence.setting.PointSettings;
import millrace.fault.InstrumentException;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.condition.ConditionSetter;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.run.plausibility.PlausibilityCheck;
import millrace.run.plausibility.PointCredibilityCheck;
import millrace.run.plausibility.SuspectReadings;
import millrace.run.reading.BegunPoint;
import millrace.run.reading.KneeBisection;
import millrace.run.reading.MeterZeroing;
import millrace.run.reading.PointMeasurer;
import millrace.run.reading.PointMeasurer.Taken;
import millrace.run.reading.ReadingMeans;
import millrace.run.reading.RunComponents;
import millrace.run.reading.StandstillDetector;
import millrace.run.reading.TimeSeriesRecorder;
import millrace.run.trial.TrialLapRun;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.MeasuringRules.SettleRule;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;
import millrace.sequence.Task;

/** Does what each kind of task asks for. Single-threaded. */
final class TaskPerformer {
  /** The name under which a point stores which check standard was read. */
  private static final String STANDARD = "check standard";

  private final RunContext setting;
  private final RunComponents workers;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final ConditionSetter conditionSetter;
  private final PointMeasurer pointReader;
  private final MeterZeroing zeroing;
  private final PointCredibilityCheck pointCredibilityCheck;
  private final PlausibilityCheck plausibilityCheck;
  private final TrialLapRun trial;

  TaskPerformer(RunContext setting, RunComponents workers) {
    this.setting = setting;
    this.workers = workers;
    this.journal = workers.journal();
    this.waiting = workers.waiting();
    this.conditionSetter = workers.station();
    this.pointReader = workers.taker();
    this.zeroing = new MeterZeroing(workers);
    this.pointCredibilityCheck = workers.vouching();
    this.plausibilityCheck = workers.plausible();
    this.trial = new TrialLapRun(setting, workers, plausibilityCheck);
  }

  /**
   * Does one task.
   *
   * @param point the point
   * @param stayTrouble why points of this stay are flagged; empty if the soak was good
   * @return the points that went into the logbook
   * @throws InstrumentException if an instrument fails; nothing of the point is in the logbook then
   */
  List<Point> perform(PlannedPoint point, Optional<String> stayTrouble) {
    return point.task().accept(new Each(point, stayTrouble));
  }

  /** Does one point. */
  private final class Each implements Task.Visitor<List<Point>> {
    private final PlannedPoint point;
    private final Optional<String> stayTrouble;

    Each(PlannedPoint point, Optional<String> stayTrouble) {
      this.point = point;
      this.stayTrouble = stayTrouble;
    }

    @Override
    public List<Point> measure(Task.Measure task) {
      return List.of(TaskPerformer.this.measure(point, stayTrouble));
    }

    @Override
    public List<Point> zero(Task.Zero task) {
      return List.of(zeroing.take(point));
    }

    @Override
    public List<Point> checkStandard(Task.CheckStandard task) {
      return checkStandards(point, task);
    }

    @Override
    public List<Point> findKnee(Task.FindKnee task) {
      return TaskPerformer.this.findKnee(point, task, stayTrouble);
    }

    @Override
    public List<Point> watch(Task.Watch task) {
      return TaskPerformer.this.watch(point, task);
    }

    @Override
    public List<Point> sourceOff(Task.SourceOff task) {
      return List.of(TaskPerformer.this.sourceOff(point));
    }

    @Override
    public List<Point> knownResistor(Task.KnownResistor task) {
      return List.of(TaskPerformer.this.knownResistor(point, task));
    }

    @Override
    public List<Point> trialLap(Task.TrialLap task) {
      return trial.lap(point, task);
    }

    @Override
    public List<Point> ask(Task.Ask task) {
      new QuestionToOperator(setting.operator(), waiting, journal)
          .put(task, point.conditions().temperatureDegC());
      return List.of();
    }

    @Override
    public List<Point> waits(Task.Wait task) {
      waiting.rest(TimeSpanSeconds.ofSeconds(task.spanS()));
      return List.of();
    }
  }

  private void settle(PlannedPoint point, PointConditions conditions, boolean changed) {
    if (changed) {
      Duration wait = TimeSpanSeconds.ofSeconds(point.rules().settle().waitS());
      Duration cable = conditionSetter.capacitanceWait(conditions);
      waiting.sleep(wait.compareTo(cable) > 0 ? wait : cable);
      point.rules().settle().withinRatio().ifPresent(ratio -> agree(point, conditions, ratio));
    }
  }

  /**
   * Waits until successive readings agree (the settle rule of the sequence) and no longer creep one
   * way: where readings come faster than the source, small steps add up.
   */
  private void agree(PlannedPoint point, PointConditions conditions, double ratio) {
    double within = ratio * Math.abs(conditions.nominalA().orElse(1));
    Duration until =
        journal.elapsed().plus(TimeSpanSeconds.ofSeconds(point.rules().settle().atMostS()));
    StandstillDetector still = new StandstillDetector(SettleRule.CREEP * within);
    OptionalDouble before = OptionalDouble.empty();
    do {
      waiting.look();
      OptionalDouble now = pointReader.current().value();
      boolean stands = now.isPresent() && still.after(now.getAsDouble());
      if (stands
          && before.isPresent()
          && Math.abs(now.getAsDouble() - before.getAsDouble()) <= within) {
        return;
      }
      before = now;
    } while (journal.elapsed().compareTo(until) < 0);
    journal.incident(
        IncidentKind.CAUTION,
        "readings did not agree within %s before the longest wait was over"
            .formatted(QuantityText.print(ratio, Dimension.RATIO, 2)));
  }

  private Taken take(PlannedPoint point, PointConditions conditions) {
    boolean changed = conditionSetter.establish(conditions);
    conditionSetter.prepareMeters(conditions, point.rules().readings().lineCycles());
    settle(point, conditions, changed);
    ReadingRule rule = point.rules().readings();
    return rule.reversal() ? bothWays(point, conditions) : pointReader.measure(conditions, rule);
  }

  /**
   * Takes half of the readings, then all with the unit's leads exchanged, then the other half, so
   * that a linear drift cancels as well (methods.md 1.4).
   */
  private Taken bothWays(PlannedPoint point, PointConditions conditions) {
    ReadingRule rule = point.rules().readings();
    int half = (rule.count() + 1) / 2;
    Taken taken = pointReader.measure(conditions, rule.only(half));
    settle(point, conditions, conditionSetter.reverse(true));
    taken = taken.and(pointReader.measure(conditions, rule.only(rule.count())).reversed());
    settle(point, conditions, conditionSetter.reverse(false));
    int rest = rule.count() - half;
    return rest == 0 ? taken : taken.and(pointReader.measure(conditions, rule.only(rest)));
  }

  private Point measure(PlannedPoint point, Optional<String> stayTrouble) {
    PointConditions conditions = point.conditions();
    BegunPoint begun = begun(point, PointKind.MEASURE);
    Taken taken = take(point, conditions);
    Optional<PlausibilityCheck.Doubt> doubt = plausibilityCheck.doubt(conditions, taken.readings());
    doubt.ifPresent(d -> journal.incident(IncidentKind.FLAG, d.text()));
    boolean suspect = doubt.filter(d -> !d.believed()).isPresent();
    return live(
        begun,
        conditions,
        suspect ? SuspectReadings.all(taken.readings()) : taken.readings(),
        doubt.map(PlausibilityCheck.Doubt::text).or(() -> stayTrouble).or(taken::trouble));
  }

  /**
   * Stores a point that was measured with the source on, and ends the run if no current flows any
   * more.
   */
  private Point live(
      BegunPoint begun,
      PointConditions conditions,
      List<Reading> readings,
      Optional<String> trouble) {
    Optional<Boolean> flows = plausibilityCheck.flows(conditions, readings);
    Point point = commit(begun, readings, trouble);
    flows.ifPresent(flow -> workers.tampering().after(conditions, flow));
    return point;
  }

  private Point commit(BegunPoint begun, List<Reading> readings, Optional<String> trouble) {
    return workers.commit(begun, readings, trouble);
  }

  private BegunPoint begun(PlannedPoint point, PointKind kind) {
    return BegunPoint.of(point, kind, journal.elapsed());
  }

  /**
   * Reads each check standard that is asked for, with a zero of its own just before (methods.md
   * 2.7).
   */
  private List<Point> checkStandards(PlannedPoint point, Task.CheckStandard task) {
    Map<String, BenchFile.Standard> standards = setting.bench().file().standards();
    List<Point> points = new ArrayList<>();
    for (String name : task.among(standards.keySet())) {
      points.addAll(checkStandard(point, name, Optional.ofNullable(standards.get(name))));
    }
    if (points.isEmpty()) {
      journal.incident(
          IncidentKind.SKIP,
          "no check standard is read: the bench has none, so nothing tells the meter's drift");
    }
    return points;
  }

  private List<Point> checkStandard(
      PlannedPoint point, String name, Optional<BenchFile.Standard> standard) {
    Switch to =
        setting
            .bench()
            .in(RoleName.SWITCH, Switch.class)
            .filter(s -> standard.isPresent())
            .orElseThrow(
                () ->
                    new InstrumentException(
                        "check standard '%s' cannot be reached: the bench file names no switch or no such standard. Add it under 'check standards'."
                            .formatted(name)));
    PointConditions drives = point.conditions().inRange("", standard.orElseThrow().currentA());
    Point before = zeroing.take(point, point.key() + "/" + name + " zero", drives);
    BegunPoint begun = begun(point, PointKind.CHECK_STANDARD);
    conditionSetter.standard(to, standard.orElseThrow().position());
    conditionSetter.prepareMeters(drives, point.rules().readings().lineCycles());
    waiting.sleep(TimeSpanSeconds.ofSeconds(point.rules().settle().waitS()));
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < point.rules().readings().count(); i++) {
      readings.add(pointReader.current());
    }
    Optional<String> apart =
        pointReader.agreed(readings, STANDARD + " " + name, pointReader::current);
    pointReader.surroundings(readings);
    to.disconnect();
    pointCredibilityCheck.check();
    PointSettings settings = conditionSetter.settings().at(name);
    return List.of(
        before, journal.commit(begun.done(apart, journal.elapsed(), settings), readings));
  }

  /**
   * Bisection over load between the last point inside and the first outside (methods.md 3.5), with
   * two more points outside for the enclosure of 3.3.
   */
  private List<Point> findKnee(
      PlannedPoint point, Task.FindKnee task, Optional<String> stayTrouble) {
    String range = point.conditions().range().orElseThrow();
    double nominal = Math.abs(point.conditions().nominalA().orElseThrow());
    Datasheet sheet = setting.datasheet();
    double fullV = sheet.complianceVoltageV(range).orElse(10.0);
    KneeBisection search =
        new KneeBisection(
            fullV / nominal, sheet.compliance().criterion(), nominal, task.resolutionV());
    List<Point> points = new ArrayList<>();
    OptionalDouble next = search.first(task.highestShare());
    while (next.isPresent()) {
      double ohm = next.getAsDouble();
      PointConditions conditions =
          point.conditions().atLoad(ohm, OptionalDouble.empty(), Optional.of(SweepDirection.UP));
      String key = point.key() + "/" + QuantityText.print(ohm, Dimension.RESISTANCE, 6);
      BegunPoint begun =
          BegunPoint.within(point, key, kneeKind(point), conditions, journal.elapsed());
      Taken taken = take(point, conditions);
      Optional<String> nothing = plausibilityCheck.nothing(conditions, taken.readings());
      nothing.ifPresent(text -> journal.incident(IncidentKind.FLAG, text));
      Optional<String> trouble = nothing.or(() -> stayTrouble).or(taken::trouble);
      points.add(live(begun, conditions, taken.readings(), trouble));
      next =
          search.next(
              ohm,
              ReadingMeans.currentA(taken.readings()),
              ReadingMeans.voltageV(taken.readings()));
    }
    return points;
  }

  /**
   * While the unit is still settling in temperature its current serves to find the knee and nothing
   * else.
   */
  private static PointKind kneeKind(PlannedPoint point) {
    boolean soaks = point.temperature().filter(TemperatureRule::soaking).isPresent();
    return soaks ? PointKind.KNEE : PointKind.MEASURE;
  }

  private List<Point> watch(PlannedPoint point, Task.Watch task) {
    double soFarS = TimeSpanSeconds.seconds(journal.elapsed());
    Optional<Double> spanS = task.spanS(soFarS);
    if (spanS.isEmpty()) {
      journal.incident(
          IncidentKind.SKIP,
          "the readings over time are passed over: %s on top of %s would not end within %s"
              .formatted(
                  QuantityText.print(task.forS().orElse(soFarS), Dimension.TIME, 3),
                  QuantityText.print(soFarS, Dimension.TIME, 3),
                  QuantityText.print(task.withinS().orElse(0.0), Dimension.TIME, 3)));
      return List.of();
    }
    if (task.fromPowerOn()) {
      conditionSetter.quieten();
      conditionSetter.stayQuiet();
      waiting.sleep(TimeSpanSeconds.ofSeconds(5));
    }
    boolean changed = conditionSetter.establish(point.conditions());
    conditionSetter.prepareMeters(point.conditions(), point.rules().readings().lineCycles());
    settle(point, point.conditions(), changed && !task.fromPowerOn());
    return List.of(new TimeSeriesRecorder(workers, point, task, spanS.get()).take());
  }

  /** Current with the source off (methods.md 3.6). */
  private Point sourceOff(PlannedPoint point) {
    conditionSetter.establishQuiet(point.conditions());
    conditionSetter.prepareMeters(point.conditions(), point.rules().readings().lineCycles());
    conditionSetter.stayQuiet();
    waiting.sleep(TimeSpanSeconds.ofSeconds(point.rules().settle().waitS()));
    BegunPoint begun = begun(point, PointKind.SOURCE_OFF);
    Taken taken = pointReader.measure(point.conditions(), point.rules().readings());
    return commit(begun, taken.readings(), taken.trouble());
  }

  private Point knownResistor(PlannedPoint point, Task.KnownResistor task) {
    BegunPoint begun = begun(point, PointKind.KNOWN_RESISTOR);
    Taken taken = take(point, point.conditions());
    OptionalDouble i = ReadingMeans.currentA(taken.readings());
    OptionalDouble v = ReadingMeans.voltageV(taken.readings());
    Optional<String> trouble = taken.trouble();
    if (i.isPresent() && v.isPresent() && i.getAsDouble() != 0) {
      double ohm = v.getAsDouble() / i.getAsDouble();
      double known = point.conditions().loadOhm().orElse(0);
      if (known > 0 && Math.abs(ohm / known - 1) > task.withinRatio()) {
        trouble =
            Optional.of(
                "voltage over current gives %s, the load is set to %s"
                    .formatted(
                        QuantityText.print(ohm, Dimension.RESISTANCE, 6),
                        QuantityText.print(known, Dimension.RESISTANCE, 6)));
      }
    }
    Optional<String> other = trouble;
    return live(
        begun,
        point.conditions(),
        taken.readings(),
        plausibilityCheck.nothing(point.conditions(), taken.readings()).or(() -> other));
  }
}
