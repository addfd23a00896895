package millrace.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.datasheet.Datasheet;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.Signal;
import millrace.logbook.RunReader;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.SequenceFile.SoakRule;

/**
 * How far a soak is that goes on, judged from the logbook as the run itself judges it.
 *
 * @param setpointDegC where the chamber was sent, degC
 * @param unitDegC the last temperature at the unit, degC; empty if none was read
 * @param leftRatio what is left of the change of the current over the measurements, a ratio; empty
 *     if it cannot be told
 * @param askedRatio what may be left, a ratio
 * @param left until it is over if it goes on like this; empty if that cannot be told
 * @param bound until its bound is hit
 */
public record SoakProgress(
    double setpointDegC,
    OptionalDouble unitDegC,
    OptionalDouble leftRatio,
    double askedRatio,
    Optional<Duration> left,
    Duration bound) {

  /**
   * Looks at the soak that goes on.
   *
   * @param reader the run
   * @param plan its plan
   * @param datasheet its datasheet
   * @param schedule the times of the plan
   * @return how far it is; empty if nothing soaks
   */
  public static Optional<SoakProgress> of(
      RunReader reader, Plan plan, Datasheet datasheet, Schedule schedule) {
    Optional<Point> open =
        reader.points().stream()
            .filter(p -> p.kind() == PointKind.SOAK && p.state() == PointState.OPEN)
            .reduce((a, b) -> b);
    Optional<PlannedPoint> planned = open.flatMap(p -> like(plan, p));
    return planned.map(
        p -> {
          SoakRule rule = p.temperature().orElseThrow().soak();
          double setpoint = p.conditions().temperatureDegC().orElseThrow();
          Duration measuring = schedule.measuring(p.temperature().get().visit());
          List<Sample> samples = samples(open.get(), reader.readings(open.get().id()));
          Finding finding =
              SoakJudge.look(samples, Soak.question(rule, setpoint, measuring, datasheet));
          return of(samples, finding, rule, setpoint);
        });
  }

  /** A point of the stay that soaks: its key is told by its place among the stays. */
  private static Optional<PlannedPoint> like(Plan plan, Point soak) {
    return plan.points().stream()
        .filter(p -> p.temperature().isPresent())
        .filter(p -> soak.key().equals(Soak.key(p)))
        .findFirst();
  }

  private static SoakProgress of(
      List<Sample> samples, Finding finding, SoakRule rule, double setpoint) {
    double t = samples.isEmpty() ? 0 : samples.get(samples.size() - 1).timeS();
    OptionalDouble degC =
        samples.isEmpty()
            ? OptionalDouble.empty()
            : OptionalDouble.of(samples.get(samples.size() - 1).temperatureDegC());
    Optional<Duration> left =
        finding.projectedS().isPresent()
            ? Optional.of(span(Math.max(finding.projectedS().getAsDouble(), rule.leastS()) - t))
            : Optional.empty();
    return new SoakProgress(
        setpoint, degC, finding.leftRatio(), rule.withinRatio(), left, span(rule.mostS() - t));
  }

  private static Duration span(double s) {
    return Duration.ofSeconds(Math.round(Math.max(0, s)));
  }

  /** Each current with the temperature that was read behind it. */
  private static List<Sample> samples(Point soak, List<Reading> readings) {
    List<Sample> samples = new ArrayList<>();
    double nominal = soak.conditions().nominalA().orElse(1);
    OptionalDouble current = OptionalDouble.empty();
    for (Reading r : readings) {
      if (r.signal() == Signal.CURRENT) {
        current = r.corrected().stream().map(i -> i / nominal).findFirst();
      } else if (r.value().isPresent()) {
        double t = r.elapsed().minus(soak.started()).toMillis() / 1e3;
        samples.add(new Sample(t, r.value().getAsDouble(), current));
      }
    }
    return samples;
  }
}
