package millrace.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BooleanSupplier;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.analysis.settling.SoakJudge.State;
import millrace.bench.Bench;
import millrace.bench.role.Chamber;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.fault.InstrumentException;
import millrace.logbook.RunWriter;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;
import millrace.sequence.SequenceFile.OnFailure;
import millrace.sequence.SequenceFile.SoakRule;

/**
 * Brings the unit to a temperature and decides by what is measured when it is there (measurement.md
 * 6.1). Single-threaded.
 */
final class Soak {
  /** Counts where the datasheet names no thermal time constant. */
  private static final double USUAL_TAU_S = 600;

  private static final double BAND_K = 0.05;

  private static final double LINE_CYCLES = 10;
  private static final double TWO_MINUTES_S = 120;

  /** A chamber that keeps its ramp must not trip the interlock on its rate by overshoot. */
  private static final double RAMP_OF_BOUND = 0.5;

  private static final Duration AFTER_CHANGE = Duration.ofSeconds(1);

  private final Bench bench;
  private final Datasheet datasheet;
  private final Journal journal;
  private final Watchman watchman;
  private final Station station;
  private final Taker taker;
  private int chamberEpoch;

  Soak(RunSetting setting, Hands hands) {
    this.bench = setting.bench();
    this.datasheet = setting.datasheet();
    this.journal = hands.journal();
    this.watchman = hands.watchman();
    this.station = hands.station();
    this.taker = hands.taker();
  }

  /** Tells whether the chamber still is where it was sent: its link was not opened again. */
  boolean holds() {
    return epoch() == chamberEpoch;
  }

  private int epoch() {
    return bench
        .nameIn(RoleName.CHAMBER)
        .map(name -> bench.instruments().get(name).epoch())
        .orElse(0);
  }

  /** What the soak before a point is called. */
  static String key(PlannedPoint point) {
    int stay = point.temperature().orElseThrow().visit() + 1;
    return "soak " + stay + " " + point.path().get(0);
  }

  /**
   * Goes to a temperature and soaks until every unit has come to rest.
   *
   * @param key the key of the stay
   * @param watched of each unit the point whose current is watched meanwhile, at least one
   * @param measuring how long the measurements will take
   * @param remote whoever may wish that the stay be skipped
   * @return why the stay must be flagged, by slot (empty text for a unit without one); empty if all
   *     is good
   */
  Map<String, String> at(
      String key, List<PlannedPoint> watched, Duration measuring, Remote remote) {
    Optional<Chamber> chamber = bench.in(RoleName.CHAMBER, Chamber.class);
    if (chamber.isEmpty()) {
      return Map.of();
    }
    TemperatureRule rule = watched.get(0).temperature().orElseThrow();
    double setpoint = watched.get(0).conditions().temperatureDegC().orElseThrow();
    watchman.beforeCooling(setpoint);
    chamber.get().setpoint(setpoint, ramp(rule));
    chamberEpoch = epoch();
    List<Watched> units = new ArrayList<>();
    try {
      for (PlannedPoint point : watched) {
        units.add(begun(key, point.conditions()));
      }
      watch(
          units,
          rule.soak(),
          question(rule.soak(), setpoint, measuring, datasheet),
          () -> remote.unwanted(watched.get(0)));
    } catch (InstrumentException e) {
      units.forEach(unit -> unit.brokenOff(e));
      throw e;
    }
    Map<String, String> troubles = new LinkedHashMap<>();
    for (Watched unit : units) {
      Ended ended = unit.ended.orElseThrow();
      unit.open.close(unit.draft.done(ended.trouble(), journal.elapsed(), unit.settings));
      Optional<String> slot = unit.conditions.slot();
      journal.incident(slot, IncidentKind.SOAK, ended.text());
      ended.trouble().ifPresent(t -> troubles.put(slot.orElse(""), t));
    }
    thermometer(units.get(0).samples, setpoint)
        .ifPresent(
            text -> {
              journal.incident(Optional.empty(), IncidentKind.CAUTION, text);
              units.forEach(u -> troubles.put(u.conditions.slot().orElse(""), text));
            });
    return troubles;
  }

  /** No faster than the interlock allows, where the sequence does not ask for less. */
  private double ramp(TemperatureRule rule) {
    double most = bench.file().interlocks().chamber().mostKPerS().orElse(rule.rampKPerS());
    return Math.min(most * RAMP_OF_BOUND, rule.rampKPerS());
  }

  /**
   * A thermometer that stays where it was while the chamber went elsewhere is not at the unit. The
   * chamber is asked only where the thermometer did not come near the setpoint.
   */
  private Optional<String> thermometer(List<Sample> samples, double setpoint) {
    if (bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).isEmpty()) {
      return Optional.empty();
    }
    double first = samples.get(0).temperatureDegC();
    double last = samples.get(samples.size() - 1).temperatureDegC();
    if (Wiring.thermometer(first, last, setpoint).isEmpty()) {
      return Optional.empty();
    }
    OptionalDouble air = degC(RoleName.CHAMBER);
    return air.isPresent() ? Wiring.thermometer(first, last, air.getAsDouble()) : Optional.empty();
  }

  private OptionalDouble degC(RoleName role) {
    return bench
        .in(role, Sensor.class)
        .map(Sensor::read)
        .filter(Reply.Number.class::isInstance)
        .map(reply -> OptionalDouble.of(((Reply.Number) reply).value()))
        .orElse(OptionalDouble.empty());
  }

  private Watched begun(String key, Conditions conditions) {
    connect(conditions);
    return new Watched(
        new Draft(key, PointKind.SOAK, conditions, journal.elapsed()), station.settings());
  }

  /** Several units take turns at the meter. */
  private void connect(Conditions conditions) {
    boolean changed = station.establish(conditions);
    station.prepareMeters(conditions, LINE_CYCLES);
    if (changed) {
      watchman.sleep(AFTER_CHANGE);
    }
  }

  /** How a soak ended. */
  private record Ended(String text, Optional<String> trouble) {}

  /** One unit while it soaks. */
  private final class Watched {
    private final Draft draft;
    private final Conditions conditions;
    private final Map<String, String> settings;
    private final RunWriter.OpenPoint open;
    private final List<Sample> samples = new ArrayList<>();
    private Optional<Ended> ended = Optional.empty();
    private int good;

    Watched(Draft draft, Map<String, String> settings) {
      this.draft = draft;
      this.conditions = draft.conditions();
      this.settings = settings;
      this.open = journal.open(draft.open(settings));
    }

    void skipped() {
      String text = "the soak was skipped from another terminal";
      ended = Optional.of(new Ended(text, Optional.of(text)));
    }

    /** It will be soaked again; what was sampled so far stays with its reason. */
    void brokenOff(InstrumentException why) {
      String text = "the soak was broken off: " + why.getMessage();
      open.close(draft.done(Optional.of(text), journal.elapsed(), settings));
    }

    void look(SoakRule rule, SoakJudge.Question question) {
      connect(conditions);
      double t = seconds(journal.elapsed().minus(draft.began()));
      samples.add(sample(open, conditions, t));
      Finding finding = SoakJudge.look(samples, question);
      good = finding.state() == State.NOT_YET ? 0 : good + 1;
      tell(conditions, finding, t, rule);
      int looks = (int) Math.ceil(TWO_MINUTES_S / rule.everyS());
      if (t >= rule.leastS() && good > looks) {
        ended = Optional.of(over(conditions, finding, t));
      } else if (t >= rule.mostS()) {
        ended = Optional.of(boundHit(conditions, finding, rule));
      } else {
        ended = Optional.empty();
      }
    }
  }

  /** What is asked of a soak. */
  static SoakJudge.Question question(
      SoakRule rule, double setpoint, Duration measuring, Datasheet datasheet) {
    double tau =
        datasheet.thermalTimeConstant().map(d -> d.toMillis() / 1000.0).orElse(USUAL_TAU_S);
    return new SoakJudge.Question(
        rule.withinRatio(), Math.max(60, measuring.toMillis() / 1000.0), tau, setpoint, BAND_K);
  }

  private void watch(
      List<Watched> units, SoakRule rule, SoakJudge.Question question, BooleanSupplier unwanted) {
    while (units.stream().anyMatch(u -> u.ended.isEmpty())) {
      watchman.sleep(Duration.ofNanos(Math.round(rule.everyS() * 1e9)));
      units.forEach(u -> u.look(rule, question));
      if (unwanted.getAsBoolean()) {
        units.forEach(Watched::skipped);
      }
    }
  }

  private Sample sample(RunWriter.OpenPoint open, Conditions watched, double t) {
    List<Reading> readings = new ArrayList<>();
    Reading current = taker.current();
    readings.add(current);
    Optional<Reading> temperature = taker.temperature();
    temperature.ifPresent(readings::add);
    open.append(readings);
    OptionalDouble corrected = current.corrected();
    OptionalDouble relative =
        corrected.isPresent()
            ? OptionalDouble.of(corrected.getAsDouble() / watched.nominalA().orElse(1))
            : OptionalDouble.empty();
    double degC =
        temperature
            .map(r -> r.value().orElse(watched.temperatureDegC().orElseThrow()))
            .orElse(watched.temperatureDegC().orElseThrow());
    return new Sample(t, degC, relative);
  }

  private void tell(Conditions watched, Finding finding, double t, SoakRule rule) {
    Optional<Duration> left =
        finding.projectedS().isPresent()
            ? Optional.of(
                Duration.ofSeconds(
                    Math.round(
                        Math.max(
                            0, Math.max(finding.projectedS().getAsDouble(), rule.leastS()) - t))))
            : Optional.empty();
    String where = Quantities.print(watched.temperatureDegC().orElseThrow(), Dimension.TEMPERATURE);
    journal.tell(o -> o.waiting("soaking at " + where, left));
  }

  private static Ended over(Conditions watched, Finding finding, double t) {
    String left =
        finding.leftRatio().isPresent()
            ? Quantities.print(finding.leftRatio().getAsDouble(), Dimension.RATIO, 2)
            : "not told";
    String how =
        finding.state() == State.OVER ? "over" : "settled within noise (not told more finely)";
    return new Ended(
        "soak at %s %s after %s: %s may be left, time constant %s"
            .formatted(
                Quantities.print(watched.temperatureDegC().orElseThrow(), Dimension.TEMPERATURE),
                how,
                Quantities.print(t, Dimension.TIME, 3),
                left,
                Quantities.print(finding.tauS(), Dimension.TIME, 3)),
        Optional.empty());
  }

  private static Ended boundHit(Conditions watched, Finding finding, SoakRule rule) {
    String text =
        "soak at %s not over within its bound of %s: %s may be left, asked are %s"
            .formatted(
                Quantities.print(watched.temperatureDegC().orElseThrow(), Dimension.TEMPERATURE),
                Quantities.print(rule.mostS(), Dimension.TIME, 3),
                finding.leftRatio().isPresent()
                    ? Quantities.print(finding.leftRatio().getAsDouble(), Dimension.RATIO, 2)
                    : "an unknown change",
                Quantities.print(rule.withinRatio(), Dimension.RATIO, 2));
    if (rule.whenBoundHit() == OnFailure.STOP) {
      throw new millrace.fault.InterlockException(
          text + ". The sequence says stop. Allow a longer soak, or look at the chamber.");
    }
    return new Ended(text, Optional.of(text));
  }

  private static double seconds(Duration span) {
    return span.toNanos() / 1e9;
  }
}
