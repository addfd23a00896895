// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Question;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.analysis.settling.SoakJudge.State;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.setting.PointSettings;
import millrace.logbook.RunWriter;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.reading.BegunPoint;
import millrace.run.reading.ReadingMeans;
import millrace.run.reading.RunComponents;
import millrace.sequence.MeasuringRules.SoakRule;
import millrace.sequence.Plan.PlannedPoint;

/**
 * One unit during a soak: its ranges are read in turn, and each is judged by itself whether it has
 * settled. Single-threaded.
 */
final class SoakedUnit {
  private static final double LINE_CYCLES = 10;
  private static final int READINGS = 3;
  private static final double TWO_MINUTES_S = 120;

  /** A unit with less than this share of its current in every range counts as giving none. */
  private static final double NO_CURRENT = 0.1;

  private static final Duration AFTER_CHANGE = Duration.ofSeconds(1);

  private final RunComponents workers;
  private final Optional<String> slot;
  private final double setpointDegC;
  private final Duration began;
  private final List<PlannedPoint> points;
  private final List<Watched> ranges = new ArrayList<>();
  private Optional<SoakEnd> end = Optional.empty();
  private int turn;
  private boolean stuckTold;

  /** One range of the unit while it is watched. */
  private final class Watched {
    private final BegunPoint begun;
    private final PointSettings settings;
    private final RunWriter.OpenPoint open;
    private final List<Sample> samples = new ArrayList<>();
    private Optional<Finding> finding = Optional.empty();
    private OptionalDouble goodSinceS = OptionalDouble.empty();

    Watched(String key, PlannedPoint point) {
      PointConditions conditions = point.conditions();
      String name = conditions.range().map(r -> key + " " + r).orElse(key);
      connect(conditions);
      begun = BegunPoint.within(point, name, PointKind.SOAK, conditions, began);
      settings = workers.station().settings();
      open = workers.journal().open(begun.open(settings));
    }

    PointConditions conditions() {
      return begun.conditions();
    }

    /**
     * Whether it met the criterion at this look and at every one in the last two minutes or more.
     */
    boolean settled(double t) {
      return goodSinceS.isPresent() && t - goodSinceS.getAsDouble() >= TWO_MINUTES_S;
    }

    void judge(double t, Question question) {
      Finding found = SoakJudge.look(samples, question);
      finding = Optional.of(found);
      if (found.state() == State.NOT_YET) {
        goodSinceS = OptionalDouble.empty();
      } else if (goodSinceS.isEmpty()) {
        goodSinceS = OptionalDouble.of(t);
      }
    }

    OptionalDouble lastRelative() {
      for (int i = samples.size() - 1; i >= 0; i--) {
        if (samples.get(i).relative().isPresent()) {
          return samples.get(i).relative();
        }
      }
      return OptionalDouble.empty();
    }
  }

  /** A unit that is watched at a point of each range, at least one. */
  SoakedUnit(RunComponents workers, List<PlannedPoint> points) {
    this.workers = workers;
    this.points = points;
    this.began = workers.journal().elapsed();
    PointConditions first = points.get(0).conditions();
    this.slot = first.slot();
    this.setpointDegC = first.temperatureDegC().orElseThrow();
  }

  /** Begins its records. */
  void begin(String key) {
    points.forEach(p -> ranges.add(new Watched(key, p)));
  }

  Optional<String> slot() {
    return slot;
  }

  /** How its soak ended; empty while it goes on. */
  Optional<SoakEnd> end() {
    return end;
  }

  /** Whether it is near its temperature or its soak has ended. */
  boolean isWithin(double nearK) {
    List<Sample> so = samples();
    boolean near =
        !so.isEmpty() && Math.abs(so.get(so.size() - 1).temperatureDegC() - setpointDegC) <= nearK;
    return near || end.isPresent();
  }

  /** Everything that was sampled so far. */
  List<Sample> samples() {
    return ranges.get(0).samples;
  }

  private void connect(PointConditions conditions) {
    boolean changed = workers.station().establish(conditions);
    workers.station().prepareMeters(conditions, LINE_CYCLES);
    if (changed) {
      workers.waiting().sleep(AFTER_CHANGE);
    }
  }

  /** Looks at the range whose turn it is. */
  void look(SoakRule rule, Question question) {
    Watched watched = ranges.get(turn++ % ranges.size());
    connect(watched.conditions());
    double t = TimeSpanSeconds.seconds(workers.journal().elapsed().minus(began));
    Sample sample = sample(watched, t);
    Sample beside =
        new Sample(t, sample.temperatureDegC(), sample.airDegC(), OptionalDouble.empty());
    ranges.forEach(r -> r.samples.add(r == watched ? sample : beside));
    watched.judge(t, question);
    tell(t, rule);
    if (!stuckTold) {
      stuck().ifPresent(this::tellStuck);
    }
    end = ended(t, rule);
  }

  private Optional<SoakEnd> ended(double t, SoakRule rule) {
    if (t >= rule.leastS() && workers.severalUnits() && silent()) {
      return Optional.of(gone());
    } else if (t >= rule.leastS() && ranges.stream().allMatch(r -> r.settled(t))) {
      return Optional.of(over(t));
    }
    return t >= rule.mostS() ? Optional.of(boundHit(rule)) : Optional.empty();
  }

  void skipped() {
    end = Optional.of(SoakEnd.doubtful("the soak was skipped from another terminal"));
  }

  private boolean silent() {
    return ranges.stream()
        .allMatch(
            r ->
                r.lastRelative().isPresent()
                    && Math.abs(r.lastRelative().getAsDouble()) < NO_CURRENT);
  }

  private Sample sample(Watched watched, double t) {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < READINGS; i++) {
      workers.taker().current(readings, watched.begun.key(), true);
    }
    double nominal = watched.conditions().nominalA().orElse(1);
    OptionalDouble mean = ReadingMeans.currentA(readings);
    Optional<Reading> unit = workers.taker().temperature(readings);
    Optional<Reading> air = workers.taker().air(readings);
    watched.open.append(readings);
    workers
        .plausible()
        .flows(watched.conditions(), readings)
        .ifPresent(flows -> workers.tampering().after(watched.conditions(), flows));
    return new Sample(
        t,
        unit.map(r -> r.value().orElse(setpointDegC)).orElse(setpointDegC),
        air.map(Reading::value).orElseGet(OptionalDouble::empty),
        mean.isPresent() ? OptionalDouble.of(mean.getAsDouble() / nominal) : mean);
  }

  private Optional<String> stuck() {
    return StuckChamber.words(samples(), setpointDegC);
  }

  private void tellStuck(String words) {
    stuckTold = true;
    workers.journal().incident(slot, IncidentKind.CAUTION, "soak at " + where() + ": " + words);
  }

  private Finding worst() {
    Finding worst = ranges.get(0).finding.orElseThrow();
    for (Watched r : ranges) {
      Finding f = r.finding.orElse(worst);
      if (f.leftRatio().orElse(Double.MAX_VALUE) > worst.leftRatio().orElse(Double.MAX_VALUE)) {
        worst = f;
      }
    }
    return worst;
  }

  private void tell(double t, SoakRule rule) {
    OptionalDouble projected = worst().projectedS();
    double leftS = projected.isPresent() ? Math.max(projected.getAsDouble(), rule.leastS()) - t : 0;
    Optional<Duration> left =
        Optional.of(Duration.ofSeconds(Math.max(0, Math.round(leftS)))).filter(d -> !d.isZero());
    String why = "soaking at " + where() + stuck().map(words -> ": " + words).orElse("");
    workers.journal().tell(o -> o.waiting(why, left));
  }

  private String where() {
    return QuantityText.print(setpointDegC, Dimension.TEMPERATURE);
  }

  private SoakEnd over(double t) {
    boolean noisy =
        ranges.stream().anyMatch(r -> r.finding.orElseThrow().state() == State.WITHIN_NOISE);
    Finding worst = worst();
    return SoakEnd.good(
        "soak at %s %s after %s: %s may be left, time constant %s"
            .formatted(
                where(),
                noisy ? "settled within noise (cannot be resolved further)" : "over",
                QuantityText.print(t, Dimension.TIME, 3),
                left(worst, "unknown"),
                QuantityText.print(worst.tauS(), Dimension.TIME, 3)));
  }

  private static String left(Finding finding, String otherwise) {
    return finding.leftRatio().isPresent()
        ? QuantityText.print(finding.leftRatio().getAsDouble(), Dimension.RATIO, 2)
        : otherwise;
  }

  private SoakEnd boundHit(SoakRule rule) {
    return SoakEnd.boundHit(
        "soak at %s not over within its bound of %s: %s%s may be left, asked are %s"
            .formatted(
                where(),
                QuantityText.print(rule.mostS(), Dimension.TIME, 3),
                stuck().map(words -> words + ", so it is stuck or cannot reach it; ").orElse(""),
                left(worst(), "an unknown change"),
                QuantityText.print(rule.withinRatio(), Dimension.RATIO, 2)));
  }

  private SoakEnd gone() {
    return SoakEnd.gone(
        "the unit gives no current in any range at %s: it is left out from here on, the others go on"
            .formatted(where()));
  }

  /** Closes its records, flagged if there was trouble. */
  void close(Optional<String> trouble) {
    for (Watched r : ranges) {
      r.open.close(r.begun.done(trouble, workers.journal().elapsed(), r.settings));
    }
  }
}
