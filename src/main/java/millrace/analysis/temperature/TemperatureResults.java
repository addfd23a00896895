// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.CorrelatedNoise;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/** The results of a temperature study (methods.md 5.2 to 5.6, 5.9). */
public final class TemperatureResults {
  /** How far temperatures must differ for a coefficient, K. */
  private static final double LEAST_SPAN_K = 5;

  private static final double BOX_COVERAGE = 0.95;

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
   * Everything that a study gives (methods.md 5.2 to 5.6).
   *
   * @param study the study of one range
   * @param range its name
   * @param coverage probability of intervals
   * @param notes what a reader must know, such as which thermometer counts
   * @return tempco, box, quadratic, turnover, cold, hot and hysteresis, each a value, a bound or
   *     what is missing
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
    if (study.referenceA().value() != 0) {
      all.addAll(new Hysteresis(study, range, coverage, results.partly()).results());
    }
    return all;
  }

  private Subject subject(ResultQuantity quantity, String method) {
    Optional<String> base =
        quantity == ResultQuantity.TURNOVER ? Optional.empty() : Optional.of("I_ref");
    return new Subject(quantity, Optional.of(range), ResultConditions.NONE, base, method, coverage);
  }

  /** Why there is no coefficient at all; empty if there can be one. */
  private Optional<String> obstacle() {
    if (study.referenceA().value() == 0) {
      return Optional.of("the current at T_ref is zero: nothing to be relative to");
    } else if (study.slope().isEmpty() || study.spanK() < LEAST_SPAN_K) {
      return Optional.of(
          "%s, needs at least 2 that differ by %s K or more"
              .formatted(
                  NumberText.counted(study.temperatures(), "temperature"), (int) LEAST_SPAN_K));
    }
    return Optional.empty();
  }

  /** Where some stays have no known error, a result of single stays leaves theirs out. */
  private List<String> partly() {
    List<String> all = new ArrayList<>(notes);
    bare().ifPresent(all::add);
    return all;
  }

  private Optional<String> bare() {
    long bare = study.points().stream().filter(p -> p.currentA().pointUncertainty() == 0).count();
    return bare > 0 && bare < study.points().size()
        ? Optional.of(
            "%s of %s stays have no known uncertainty: what is stated leaves theirs out"
                .formatted(bare, study.points().size()))
        : Optional.empty();
  }

  private List<String> notes(TemperatureLine line) {
    List<String> all = new ArrayList<>(notes);
    if (line.timeTerm()) {
      all.add("a drift over time was fitted beside, T_ref being visited more than once");
    } else if (study.visits() > 1) {
      all.add("T_ref was revisited, but no times tell a drift from temperature: none was fitted");
    }
    return all;
  }

  private Result slope() {
    Subject subject =
        subject(
            ResultQuantity.TEMPCO,
            "least squares, visits of equal weight, Methods of Millrace 5.2");
    int n = study.points().size();
    Optional<String> obstacle = obstacle();
    if (obstacle.isPresent()) {
      return ResultBuilder.missing(subject, obstacle.get(), n);
    }
    TemperatureLine line = study.slope().orElseThrow();
    if (line.ppmPerK().isDrawn()) {
      return ResultBuilder.drawn(subject, line.ppmPerK().value(), n);
    }
    List<String> all = notes(line);
    RobustTemperatureSlope.of(study, coverage)
        .ifPresent(robust -> all.addAll(beside(robust, line)));
    TemperatureCurvature.of(study, coverage).ifPresent(c -> all.addAll(c.notes()));
    bare().ifPresent(all::add);
    Estimate slope = line.ppmPerK().forUse(line.use());
    if (study.points().stream().noneMatch(p -> p.currentA().pointUncertainty() > 0)) {
      all.add(
          "uncertainty not evaluated: single readings without a stated u tell no noise, and the"
              + " scatter about a line would count its curve as noise");
      return ResultBuilder.result(
          subject,
          new ComputationOutcome.Value(slope.value(), Optional.empty(), n),
          List.of(),
          all);
    }
    return ResultBuilder.value(subject, slope, n, all)
        .by(
            visits(
                "S = sum w_i (I_i/I_ref - 1), the slope of least squares over T_i, visits of equal"
                    + " weight"
                    + (line.timeTerm() ? ", of levels beside a drift" : "")));
  }

  /** The robust slope, and what it says of the ordinary one (methods.md 5.9). */
  private List<String> beside(RobustTemperatureSlope robust, TemperatureLine line) {
    List<String> all = new ArrayList<>();
    all.add(
        NumberText.format(
            "robust slope %.4g ppm/K, from %.4g to %.4g",
            robust.ppmPerK(), robust.lowPpmPerK(), robust.highPpmPerK()));
    double half = Budget.of(line.ppmPerK().forUse(line.use())).uncertainty(coverage).expanded();
    double value = line.ppmPerK().value();
    boolean apart = value < robust.lowPpmPerK() || value > robust.highPpmPerK();
    if (apart && Math.abs(value - robust.ppmPerK()) > half / 2) {
      all.add(
          NumberText.format(
              "the two slopes disagree: look at stay %s at %.1f degC, %.3g ppm off the robust line",
              robust.wildest().stay(),
              robust.wildest().temperatureDegC().value(),
              robust.wildestPpm()));
    }
    return all;
  }

  /**
   * R/(I_ref dT), biased upward by noise: a bound where R is below q u, else U = q u/(I_ref dT),
   * with q the 95 % studentized range (methods.md 5.3).
   */
  private Result box() {
    Subject subject = subject(ResultQuantity.TEMPCO_BOX, "box method, Methods of Millrace 5.3");
    int n = study.points().size();
    Optional<String> obstacle = obstacle();
    if (obstacle.isPresent()) {
      return ResultBuilder.missing(subject, obstacle.get(), n);
    }
    TemperaturePoint high = study.points().get(0);
    TemperaturePoint low = high;
    for (TemperaturePoint p : study.points()) {
      high = p.currentA().value() > high.currentA().value() ? p : high;
      low = p.currentA().value() < low.currentA().value() ? p : low;
    }
    double scale = 1e6 / (Math.abs(study.referenceA().value()) * study.spanK());
    Estimate range =
        high.currentA().minus(low.currentA()).times(scale).forUse(CorrelatedNoise.Use.VISITS);
    if (range.isDrawn()) {
      return ResultBuilder.drawn(subject, range.value(), n);
    }
    Budget budget = Budget.of(range);
    double reach = StudentizedRange.q95(n) * budget.standardUncertainty() / Math.sqrt(2);
    if (range.value() < reach) {
      List<String> all = partly();
      all.addAll(budget.notes());
      all.add("the range of the currents is within what noise gives");
      return ResultBuilder.bound(
          subject,
          new ComputationOutcome.Bound(ComputationOutcome.Side.BELOW, range.value() + reach, n),
          all);
    }
    Result found =
        reach > 0
            ? boxed(subject, range, reach, n)
            : ResultBuilder.value(subject, Estimate.exact(range.value()), n, notes);
    return found.by(
        MeasurementModel.of("S = (I_max - I_min)/(I_ref (T_max - T_min))")
            .with("I_max", "A", high.currentA().value())
            .with("I_min", "A", low.currentA().value())
            .with("I_ref", "A", study.referenceA().value())
            .with("T_max", "degC", study.hottest().temperatureDegC().value())
            .with("T_min", "degC", study.coldest().temperatureDegC().value()));
  }

  private Result boxed(Subject subject, Estimate range, double expanded, int n) {
    double value = range.value();
    ComputationOutcome.Uncertainty own =
        new ComputationOutcome.Uncertainty(
            expanded / 2,
            expanded,
            value - expanded,
            value + expanded,
            BOX_COVERAGE,
            2,
            OptionalDouble.empty());
    List<String> all = partly();
    Budget budget = Budget.of(range);
    all.addAll(budget.notes());
    all.add(
        "a range is biased upward by noise; U is q u, q the 95 % studentized range: its coverage is"
            + " 95 %, whatever that of other results");
    return ResultBuilder.result(
        subject,
        new ComputationOutcome.Value(value, Optional.of(own), n),
        budget.components(),
        all);
  }

  /** An equation over the stays. */
  private MeasurementModel visits(String equation) {
    return MeasurementModel.of(equation)
        .with("I_ref", "A", study.referenceA().value())
        .with("T_i", "degC", study.degC())
        .with("I_i", "A", study.currentsA());
  }

  private List<Result> quadratic() {
    Subject a =
        subject(ResultQuantity.TEMPCO_QUADRATIC_A, "quadratic fit, Methods of Millrace 5.4");
    Subject b =
        subject(ResultQuantity.TEMPCO_QUADRATIC_B, "quadratic fit, Methods of Millrace 5.4");
    Subject turnover = subject(ResultQuantity.TURNOVER, "T_ref - a/(2 b), Methods of Millrace 5.4");
    int n = study.points().size();
    Optional<TemperatureLine> fitted =
        obstacle().isPresent() ? Optional.empty() : study.quadratic();
    if (fitted.isEmpty()) {
      String why = obstacle().orElse("needs at least 4 stays at 3 temperatures");
      return List.of(
          ResultBuilder.missing(a, why, n),
          ResultBuilder.missing(b, why, n),
          ResultBuilder.missing(turnover, why, n));
    }
    TemperatureLine line = fitted.get();
    TurnoverTemperature turning = TurnoverTemperature.of(study, line);
    if (line.ppmPerK().isDrawn()) {
      return List.of(
          ResultBuilder.drawn(a, line.ppmPerK().value(), n),
          ResultBuilder.drawn(b, line.quadraticPpmPerK2().value(), n),
          turning.result(turnover, List.of()));
    }
    String bent =
        "I_i/I_ref - 1 = c + a (T_i - T_ref) + b (T_i - T_ref)^2"
            + (line.timeTerm() ? " + e h_i" : "")
            + ", least squares";
    return List.of(
        ResultBuilder.value(a, line.ppmPerK().forUse(line.use()), n, notes(line))
            .by(visits("a of " + bent)),
        ResultBuilder.value(b, line.quadraticPpmPerK2().forUse(line.use()), n, notes(line))
            .by(visits("b of " + bent)),
        turning.result(turnover, notes(line)));
  }

  /** (I_T - I_ref)/(I_ref (T - T_ref)) at one end (methods.md 5.5; form of IEC 60115-1). */
  private Result end(ResultQuantity quantity, int side) {
    Subject subject = subject(quantity, "end points, Methods of Millrace 5.5");
    double extreme = (side < 0 ? study.coldest() : study.hottest()).temperatureDegC().value();
    List<TemperaturePoint> there = new ArrayList<>();
    for (TemperaturePoint p : study.points()) {
      if (RelativeTemperatureStays.near(p, extreme)) {
        there.add(p);
      }
    }
    if ((extreme - study.referenceDegC()) * side < LEAST_SPAN_K) {
      return ResultBuilder.missing(
          subject,
          "no temperature lies %s K or more %s T_ref"
              .formatted((int) LEAST_SPAN_K, side < 0 ? "below" : "above"),
          there.size());
    } else if (obstacle().isPresent()) {
      return ResultBuilder.missing(subject, obstacle().get(), there.size());
    }
    Estimate current = Estimate.mean(there.stream().map(TemperaturePoint::currentA).toList());
    Estimate away = temperature(there).minus(referenceTemperature());
    Estimate ppm = current.over(study.referenceA()).plus(-1).times(1e6);
    Estimate perK = ppm.over(away).forUse(CorrelatedNoise.Use.VISITS);
    int n = there.size() + study.visits();
    if (perK.isDrawn()) {
      return ResultBuilder.drawn(subject, perK.value(), n);
    }
    return ResultBuilder.value(subject, perK, n, partly())
        .by(
            MeasurementModel.of("S = (I_T - I_ref)/(I_ref (T - T_r))")
                .with("I_T", "A", current.value())
                .with("I_ref", "A", study.referenceA().value())
                .with("T", "degC", temperature(there).value())
                .with("T_r", "degC", referenceTemperature().value()));
  }

  private static Estimate temperature(List<TemperaturePoint> points) {
    return Estimate.mean(points.stream().map(TemperaturePoint::temperatureDegC).toList());
  }

  private Estimate referenceTemperature() {
    return study.visits() == 0
        ? Estimate.exact(study.referenceDegC())
        : temperature(study.referenceVisits());
  }
}
