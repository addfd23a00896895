// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.datasheet.Datasheet;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.logbook.RunReader;
import millrace.quantity.TimeSpanSeconds;
import millrace.sequence.MeasuringRules.SoakRule;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;

/**
 * The progress of a soak, judged from the logbook by the same rule as in the run.
 *
 * @param setpointDegC where the chamber was sent, degC
 * @param unitDegC the last temperature at the unit, degC; empty if none was read
 * @param leftRatio what is left of the change of the current, a ratio; empty if it cannot be
 *     estimated
 * @param askedRatio what may be left, a ratio
 * @param left the estimated time to its end; empty if it cannot be estimated
 * @param bound until its bound is hit
 * @param watched the readings of the range that is farthest from settled
 */
public record SoakProgress(
    double setpointDegC,
    OptionalDouble unitDegC,
    OptionalDouble leftRatio,
    double askedRatio,
    Optional<Duration> left,
    Duration bound,
    Watched watched) {

  /**
   * The data by which a soak is judged.
   *
   * @param range name of the range; empty text if the unit has none
   * @param samples every look so far
   * @param toComeRatio how far the current is from its settled value, now less settled, a ratio;
   *     empty if it cannot be estimated
   */
  public record Watched(String range, List<Sample> samples, OptionalDouble toComeRatio) {
    /** Copies the list. */
    public Watched {
      samples = List.copyOf(samples);
    }
  }

  /**
   * Reads the soak in progress.
   *
   * @param reader the run
   * @param plan its plan
   * @param datasheet its datasheet
   * @return its progress, by the range that is farthest from settled; empty if there is no soak
   */
  public static Optional<SoakProgress> of(RunReader reader, Plan plan, Datasheet datasheet) {
    List<Point> open =
        reader.points().stream()
            .filter(p -> p.kind() == PointKind.SOAK && p.state() == PointState.OPEN)
            .toList();
    Optional<PlannedPoint> planned = open.stream().reduce((a, b) -> b).flatMap(p -> like(plan, p));
    return planned.map(p -> worst(reader, open, p, datasheet));
  }

  /** A point of the stay that is soaking; its key follows from the number of the stay. */
  private static Optional<PlannedPoint> like(Plan plan, Point soak) {
    return plan.points().stream()
        .filter(p -> p.temperature().isPresent())
        .filter(p -> (soak.key() + " ").startsWith(Soak.key(p) + " "))
        .findFirst();
  }

  private static SoakProgress worst(
      RunReader reader, List<Point> open, PlannedPoint planned, Datasheet datasheet) {
    SoakRule rule = planned.temperature().orElseThrow().soak();
    Map<Point, List<Reading>> readings = new LinkedHashMap<>();
    open.forEach(p -> readings.put(p, reader.readings(p.id())));
    List<Sample> last = List.of();
    Optional<Finding> worst = Optional.empty();
    Watched watched = new Watched("", List.of(), OptionalDouble.empty());
    for (Point range : open) {
      last = samples(readings, range);
      Finding found = SoakJudge.look(last, Soak.question(planned, datasheet));
      if (worst.isEmpty() || left(found) > left(worst.get())) {
        worst = Optional.of(found);
        watched = watched(range, last, found);
      }
    }
    double setpoint = planned.conditions().temperatureDegC().orElseThrow();
    return of(watched, worst.orElseThrow(), rule, setpoint);
  }

  private static double left(Finding found) {
    return found.leftRatio().orElse(Double.MAX_VALUE);
  }

  private static Watched watched(Point range, List<Sample> samples, Finding found) {
    OptionalDouble toCome =
        found.left().isPresent()
            ? OptionalDouble.of(found.left().get().ratio())
            : OptionalDouble.empty();
    return new Watched(range.conditions().range().orElse(""), samples, toCome);
  }

  private static SoakProgress of(Watched watched, Finding finding, SoakRule rule, double setpoint) {
    List<Sample> samples = watched.samples();
    double t = samples.isEmpty() ? 0 : samples.get(samples.size() - 1).timeS();
    OptionalDouble degC =
        samples.isEmpty()
            ? OptionalDouble.empty()
            : OptionalDouble.of(samples.get(samples.size() - 1).temperatureDegC());
    Optional<Duration> left =
        finding.projectedS().isPresent()
            ? Optional.of(span(Math.max(finding.projectedS().getAsDouble(), rule.leastS()) - t))
                .filter(d -> !d.isZero())
            : Optional.empty();
    return new SoakProgress(
        setpoint,
        degC,
        finding.leftRatio(),
        rule.withinRatio(),
        left,
        span(rule.mostS() - t),
        watched);
  }

  private static Duration span(double s) {
    return Duration.ofSeconds(Math.round(Math.max(0, s)));
  }

  /** Every look at the unit in the order of time; those at one range with its current. */
  private static List<Sample> samples(Map<Point, List<Reading>> readings, Point wanted) {
    List<Sample> samples = new ArrayList<>();
    readings.forEach((range, taken) -> samples.addAll(looks(range, taken, range.equals(wanted))));
    samples.sort(Comparator.comparingDouble(Sample::timeS));
    return samples;
  }

  /** A look consists of the currents, then the temperature of the unit, then that of the air. */
  private static List<Sample> looks(Point range, List<Reading> taken, boolean wanted) {
    List<Sample> looks = new ArrayList<>();
    DoubleSummaryStatistics currents = new DoubleSummaryStatistics();
    double nominal = range.conditions().nominalA().orElse(1);
    for (Reading r : taken) {
      if (r.state() == ReadingState.SUSPECT) {
        continue;
      }
      if (r.signal() == MeasuredSignal.CURRENT) {
        r.corrected().ifPresent(currents);
      } else if (r.value().isPresent() && currents.getCount() > 0) {
        OptionalDouble mean = OptionalDouble.of(currents.getAverage() / nominal);
        double t = TimeSpanSeconds.seconds(r.elapsed().minus(range.started()));
        looks.add(new Sample(t, r.value().getAsDouble(), wanted ? mean : OptionalDouble.empty()));
        currents = new DoubleSummaryStatistics();
      } else if (r.value().isPresent() && !looks.isEmpty()) {
        Sample look = looks.remove(looks.size() - 1);
        looks.add(new Sample(look.timeS(), look.temperatureDegC(), r.value(), look.relative()));
      }
    }
    return looks;
  }
}
