package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.temperature.TemperatureStudy.Line;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Results;
import millrace.analysis.uncertainty.Results.Subject;
import millrace.evidence.At;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/** The results of a temperature study (measurement.md 5.2 to 5.5). */
public final class TemperatureResults {
  /** How far temperatures must differ for an end-point coefficient, K. */
  private static final double LEAST_SPAN_K = 5;

  private final TemperatureStudy study;
  private final String range;
  private final double coverage;
  private final List<String> notes;

  private TemperatureResults(
      TemperatureStudy study, String range, double coverage, List<String> notes) {
    this.study = study;
    this.range = range;
    this.coverage = coverage;
    this.notes = new ArrayList<>(notes);
    if (study.visits() == 0) {
      this.notes.add("T_ref was not visited: I_ref is the fitted value");
    }
  }

  /**
   * Everything that a study gives.
   *
   * @param study the study of one range
   * @param range its name
   * @param coverage probability of intervals
   * @param notes what a reader must know, such as which thermometer counts
   * @return tempco, box, quadratic, turnover, cold and hot, each a value, a bound or what is
   *     missing
   */
  public static List<Result> of(
      TemperatureStudy study, String range, double coverage, List<String> notes) {
    TemperatureResults results = new TemperatureResults(study, range, coverage, notes);
    List<Result> all = new ArrayList<>();
    all.add(results.slope());
    all.add(results.box());
    all.addAll(results.quadratic());
    all.add(results.end(ResultQuantity.TEMPCO_COLD, -1));
    all.add(results.end(ResultQuantity.TEMPCO_HOT, 1));
    return all;
  }

  private Subject subject(ResultQuantity quantity, String method) {
    Optional<String> base =
        quantity == ResultQuantity.TURNOVER ? Optional.empty() : Optional.of("I_ref");
    return new Subject(quantity, Optional.of(range), At.NONE, base, method, coverage);
  }

  private String tooFew() {
    return "%d temperatures, needs at least 2 that differ by %s K or more"
        .formatted(
            study.points().stream().map(p -> Math.round(p.setpointDegC())).distinct().count(),
            (int) LEAST_SPAN_K);
  }

  private double spanK() {
    return hottest().temperatureDegC().value() - coldest().temperatureDegC().value();
  }

  private TemperaturePoint hottest() {
    return study.points().stream()
        .max(Comparator.comparingDouble(p -> p.temperatureDegC().value()))
        .orElseThrow();
  }

  private TemperaturePoint coldest() {
    return study.points().stream()
        .min(Comparator.comparingDouble(p -> p.temperatureDegC().value()))
        .orElseThrow();
  }

  private List<String> notes(Line line) {
    List<String> all = new ArrayList<>(notes);
    if (line.timeTerm()) {
      all.add("a drift over time was fitted beside, T_ref being visited more than once");
    }
    if (line.birge() > 1) {
      all.add("the points scatter about the fit by more than their u: u is widened");
    }
    return all;
  }

  private Result slope() {
    Subject subject = subject(ResultQuantity.TEMPCO, "weighted least squares, measurement.md 5.2");
    int n = study.points().size();
    if (study.slope().isEmpty() || spanK() < LEAST_SPAN_K) {
      return Results.missing(subject, tooFew(), n);
    }
    Line line = study.slope().get();
    List<String> all = notes(line);
    if (n == 2) {
      all.add("a line through 2 points: their scatter is not seen");
    }
    return Results.value(subject, line.ppmPerK(), n, all);
  }

  /**
   * R/(I_ref dT), biased upward by noise: a bound where R is below q u, else U = q u/(I_ref dT),
   * with q the 95 % studentized range (measurement.md 5.3).
   */
  private Result box() {
    Subject subject = subject(ResultQuantity.TEMPCO_BOX, "box method, measurement.md 5.3");
    int n = study.points().size();
    if (n < 2 || spanK() < LEAST_SPAN_K) {
      return Results.missing(subject, tooFew(), n);
    }
    TemperaturePoint high =
        study.points().stream()
            .max(Comparator.comparingDouble(p -> p.currentA().value()))
            .orElseThrow();
    TemperaturePoint low =
        study.points().stream()
            .min(Comparator.comparingDouble(p -> p.currentA().value()))
            .orElseThrow();
    double scale = 1e6 / (Math.abs(study.referenceA().value()) * spanK());
    double r = high.currentA().value() - low.currentA().value();
    double u = high.currentA().minus(low.currentA()).standardUncertainty() / Math.sqrt(2);
    double q = StudentizedRange.q95(n);
    if (r < q * u) {
      return Results.bound(
          subject,
          new Outcome.Bound(Outcome.Side.BELOW, (r + q * u) * scale, n),
          List.of("the range of the currents is within what noise gives"));
    }
    double expanded = q * u * scale;
    double value = r * scale;
    if (expanded == 0) {
      return Results.value(subject, Estimate.exact(value), n, notes);
    }
    Outcome.Uncertainty own =
        new Outcome.Uncertainty(
            expanded / 2,
            expanded,
            Math.max(0, value - expanded),
            value + expanded,
            0.95,
            2,
            OptionalDouble.empty());
    List<String> all = new ArrayList<>(notes);
    all.add("a range is biased upward by noise; U is q u, q the 95 % studentized range");
    return Results.result(
        subject,
        new Outcome.Value(value, Optional.of(own), n),
        millrace.analysis.uncertainty.Budget.of(high.currentA().minus(low.currentA()).times(scale))
            .components(),
        all);
  }

  private List<Result> quadratic() {
    Subject a = subject(ResultQuantity.TEMPCO_QUADRATIC_A, "quadratic fit, measurement.md 5.4");
    Subject b = subject(ResultQuantity.TEMPCO_QUADRATIC_B, "quadratic fit, measurement.md 5.4");
    Subject turnover = subject(ResultQuantity.TURNOVER, "T_ref - a/(2 b), measurement.md 5.4");
    int n = study.points().size();
    Optional<Line> fitted = spanK() < LEAST_SPAN_K ? Optional.empty() : study.quadratic();
    if (fitted.isEmpty()) {
      String why = "needs at least 4 stays at 3 temperatures";
      return List.of(
          Results.missing(a, why, n),
          Results.missing(b, why, n),
          Results.missing(turnover, why, n));
    }
    Line line = fitted.get();
    return List.of(
        Results.value(a, line.ppmPerK(), n, notes(line)),
        Results.value(b, line.quadraticPpmPerK2(), n, notes(line)),
        turnover(turnover, line, n));
  }

  private Result turnover(Subject subject, Line line, int n) {
    Estimate b = line.quadraticPpmPerK2();
    if (Math.abs(b.value()) < 2 * b.standardUncertainty() || b.value() == 0) {
      return Results.missing(subject, "no curvature is told from zero", n);
    }
    Estimate at = Estimate.exact(study.referenceDegC()).minus(line.ppmPerK().over(b).times(0.5));
    boolean inside =
        at.value() >= coldest().temperatureDegC().value()
            && at.value() <= hottest().temperatureDegC().value();
    if (!inside) {
      return Results.missing(subject, "the turnover is not inside the span of temperatures", n);
    }
    return Results.value(subject, at, n, notes(line));
  }

  /** (I_T - I_ref)/(I_ref (T - T_ref)) at one end (measurement.md 5.5; form of IEC 60115-1). */
  private Result end(ResultQuantity quantity, int side) {
    Subject subject = subject(quantity, "end points, measurement.md 5.5");
    double extreme = (side < 0 ? coldest() : hottest()).temperatureDegC().value();
    List<TemperaturePoint> there =
        study.points().stream()
            .filter(p -> Math.abs(p.temperatureDegC().value() - extreme) <= 1)
            .toList();
    double away = (extreme - study.referenceDegC()) * side;
    if (away < LEAST_SPAN_K) {
      return Results.missing(
          subject,
          "no temperature lies %s K or more %s T_ref"
              .formatted((int) LEAST_SPAN_K, side < 0 ? "below" : "above"),
          there.size());
    }
    if (study.visits() == 0) {
      return Results.missing(subject, "T_ref was not visited", there.size());
    }
    double[] weights = new double[there.size()];
    java.util.Arrays.fill(weights, 1.0 / there.size());
    Estimate current =
        Estimate.combine(0, weights, there.stream().map(TemperaturePoint::currentA).toList());
    Estimate temperature =
        Estimate.combine(
            0, weights, there.stream().map(TemperaturePoint::temperatureDegC).toList());
    Estimate dT = temperature.minus(referenceTemperature());
    Estimate ppm = current.over(study.referenceA()).minus(Estimate.exact(1)).times(1e6);
    return Results.value(subject, ppm.over(dT), there.size() + study.visits(), notes);
  }

  private Estimate referenceTemperature() {
    List<TemperaturePoint> near =
        study.points().stream()
            .filter(
                p ->
                    Math.abs(p.temperatureDegC().value() - study.referenceDegC())
                        <= TemperatureStudy.NEAR_K)
            .toList();
    double[] weights = new double[near.size()];
    java.util.Arrays.fill(weights, 1.0 / near.size());
    return Estimate.combine(
        0, weights, near.stream().map(TemperaturePoint::temperatureDegC).toList());
  }
}
