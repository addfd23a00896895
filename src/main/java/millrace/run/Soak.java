package millrace.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.analysis.settling.SoakJudge.State;
import millrace.bench.Bench;
import millrace.bench.role.Chamber;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.logbook.RunWriter;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
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

  /**
   * Goes to a temperature and soaks.
   *
   * @param key the key of the stay
   * @param watched the conditions under which the current is watched meanwhile
   * @param rule how
   * @param measuring how long the measurements will take
   * @return why the stay must be flagged; empty if it is good
   */
  Optional<String> at(String key, Conditions watched, TemperatureRule rule, Duration measuring) {
    double setpoint = watched.temperatureDegC().orElseThrow();
    Optional<Chamber> chamber = bench.in(RoleName.CHAMBER, Chamber.class);
    if (chamber.isEmpty()) {
      return Optional.empty();
    }
    chamber.get().setpoint(setpoint, rule.rampKPerS());
    chamberEpoch = epoch();
    station.establish(watched);
    station.prepareMeters(watched, 10);
    Map<String, String> settings = station.settings();
    Draft draft = new Draft(key, PointKind.SOAK, watched, journal.elapsed());
    RunWriter.OpenPoint open = journal.writer().open(draft.open(settings));
    Ended ended = watch(open, watched, rule.soak(), measuring, draft.began());
    open.close(draft.done(ended.trouble(), journal.elapsed(), settings));
    journal.incident(IncidentKind.SOAK, ended.text());
    return ended.trouble();
  }

  /** How a soak ended. */
  private record Ended(String text, Optional<String> trouble) {}

  private Ended watch(
      RunWriter.OpenPoint open,
      Conditions watched,
      SoakRule rule,
      Duration measuring,
      Duration began) {
    double tau =
        datasheet.thermalTimeConstant().map(d -> d.toMillis() / 1000.0).orElse(USUAL_TAU_S);
    SoakJudge.Question question =
        new SoakJudge.Question(
            rule.withinRatio(),
            Math.max(60, measuring.toMillis() / 1000.0),
            tau,
            watched.temperatureDegC().orElseThrow(),
            BAND_K);
    List<Sample> samples = new ArrayList<>();
    int good = 0;
    while (true) {
      watchman.sleep(Duration.ofNanos(Math.round(rule.everyS() * 1e9)));
      double t = seconds(journal.elapsed().minus(began));
      samples.add(sample(open, watched, t));
      Finding finding = SoakJudge.look(samples, question);
      good = finding.state() == State.NOT_YET ? 0 : good + 1;
      tell(watched, finding, t, rule);
      int looks = (int) Math.ceil(120 / rule.everyS());
      if (t >= rule.leastS() && good > looks) {
        return over(watched, finding, t);
      }
      if (t >= rule.mostS()) {
        return boundHit(watched, finding, rule);
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
