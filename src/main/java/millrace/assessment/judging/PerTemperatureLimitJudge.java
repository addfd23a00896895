// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.UnitResponse;
import millrace.datasheet.Datasheet;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * A limit on something that is measured at one temperature at a time. Between temperatures the
 * quantity is interpolated linearly; slopes over voltage that were not measured come from the
 * unit's model (methods.md 7.1, 11.3, 11.4).
 */
final class PerTemperatureLimitJudge {
  private static final BoxJudgementBasis PREDICTED =
      new BoxJudgementBasis(BoxJudgementBasis.Basis.PREDICTED, Optional.empty(), List.of());

  private final RangeLimit promise;
  private final Datasheet sheet;
  private final List<Result> answers;
  private final MeasuredConditions known;
  private final ModelLoadRegulation model;

  PerTemperatureLimitJudge(
      RangeLimit promise,
      Datasheet sheet,
      List<Result> answers,
      Optional<UnitResponse> unit,
      MeasuredConditions known) {
    this.promise = promise;
    this.sheet = sheet;
    this.answers = answers;
    this.known = known;
    this.model = new ModelLoadRegulation(promise, sheet, unit);
  }

  Result judged() {
    List<LimitAnswerCandidate> computed =
        answers.stream()
            .filter(r -> !(r.outcome() instanceof ComputationOutcome.Missing))
            .map(this::placed)
            .sorted(Comparator.comparingDouble(c -> c.temperatureDegC().orElse(0)))
            .toList();
    if (computed.isEmpty()) {
      return UnjudgedLimits.unanswered(promise, sheet, answers);
    }
    List<String> wanting = new ArrayList<>(voltage());
    if (computed.stream().anyMatch(c -> c.temperatureDegC().isEmpty())) {
      wanting.add(LimitTemperatures.UNKNOWN);
      return UnjudgedLimits.missing(promise, sheet, wanting, computed.size());
    }
    List<LimitAnswerCandidate> candidates = new ArrayList<>(inside(computed));
    wanting.addAll(ends(computed, candidates));
    Optional<LimitAnswerCandidate> worst = LimitAnswerCandidate.worst(candidates, promise, sheet);
    boolean fails =
        worst.filter(c -> c.judged(promise, sheet).judgement().orElseThrow().failed()).isPresent();
    return wanting.isEmpty() || fails
        ? worst
            .map(
                c ->
                    new LimitAnswerCandidate(
                        c.result(), c.covers().wanting(wanting), c.temperatureDegC()))
            .map(c -> c.judged(promise, sheet))
            .orElseGet(() -> UnjudgedLimits.unanswered(promise, sheet, answers))
        : UnjudgedLimits.missing(promise, sheet, wanting, computed.size());
  }

  /** A result without its own temperature counts at T_ref if temperatures are known. */
  private LimitAnswerCandidate placed(Result r) {
    boolean own = r.at().number(ResultConditionKey.TEMPERATURE_DEGC).isPresent();
    return LimitAnswerCandidate.measured(
        r,
        own || known.temperatureDegC().isEmpty()
            ? r.at().number(ResultConditionKey.TEMPERATURE_DEGC)
            : OptionalDouble.of(sheet.referenceTemperatureDegC()));
  }

  private List<LimitAnswerCandidate> inside(List<LimitAnswerCandidate> computed) {
    ClosedInterval asked = promise.temperatureDegC();
    return computed.stream()
        .filter(c -> asked.contains(c.temperatureDegC().getAsDouble(), MeasuredConditions.SLACK_K))
        .toList();
  }

  /** The voltage that the current has to be measured up to. */
  private List<String> voltage() {
    Optional<ClosedInterval> asked = promise.box().terminalVoltageV();
    if (asked.isEmpty()) {
      return List.of();
    }
    double upper = Math.max(Math.abs(asked.get().lower()), Math.abs(asked.get().upper()));
    boolean reached =
        known.highestVoltageV().orElse(0) >= upper * (1 - MeasuredConditions.SLACK_RATIO);
    return reached
        ? List.of()
        : List.of("measure up to " + QuantityText.print(upper, Dimension.VOLTAGE));
  }

  /** Adds the values at the ends of the span; an end that cannot be computed counts as missing. */
  private List<String> ends(
      List<LimitAnswerCandidate> computed, List<LimitAnswerCandidate> candidates) {
    ClosedInterval asked = promise.temperatureDegC();
    List<Double> missing = new ArrayList<>();
    for (double end : new double[] {asked.lower(), asked.upper()}) {
      boolean measured =
          computed.stream()
              .anyMatch(
                  c ->
                      Math.abs(c.temperatureDegC().getAsDouble() - end)
                          <= MeasuredConditions.SLACK_K);
      if (!measured) {
        Optional<LimitAnswerCandidate> between = between(computed, end).or(() -> model.at(end));
        between.ifPresentOrElse(candidates::add, () -> missing.add(end));
      }
    }
    return LimitTemperatures.measureAt(missing);
  }

  private Optional<LimitAnswerCandidate> between(List<LimitAnswerCandidate> computed, double degC) {
    Optional<LimitAnswerCandidate> below =
        computed.stream().filter(c -> c.temperatureDegC().getAsDouble() < degC).reduce((a, b) -> b);
    Optional<LimitAnswerCandidate> above =
        computed.stream().filter(c -> c.temperatureDegC().getAsDouble() > degC).findFirst();
    return below.flatMap(a -> above.flatMap(b -> between(a, b, degC)));
  }

  private static Optional<LimitAnswerCandidate> between(
      LimitAnswerCandidate a, LimitAnswerCandidate b, double degC) {
    double from = a.temperatureDegC().getAsDouble();
    double share = (degC - from) / (b.temperatureDegC().getAsDouble() - from);
    return outcome(a.result().outcome(), b.result().outcome(), share)
        .map(
            o -> {
              Result near = share < 0.5 ? a.result() : b.result();
              Result there =
                  new Result(
                      near.quantity(),
                      near.range(),
                      near.at().with(ResultConditionKey.TEMPERATURE_DEGC, degC),
                      o,
                      Optional.empty(),
                      wider(a, b).budget(),
                      near.ppmBase(),
                      near.method() + "; linear between temperatures, Methods of Millrace 11.4",
                      near.notes(),
                      Optional.of(
                          MeasurementModel.of("y = (1 - s) y_1 + s y_2, s the share of the way")
                              .with("s", "1", share)
                              .with("y_1", near.quantity().unit(), value(a))
                              .with("y_2", near.quantity().unit(), value(b))));
              return new LimitAnswerCandidate(there, PREDICTED, OptionalDouble.of(degC));
            });
  }

  /** The value with the larger uncertainty, which is stated. */
  private static Result wider(LimitAnswerCandidate a, LimitAnswerCandidate b) {
    return expanded(a.result()) >= expanded(b.result()) ? a.result() : b.result();
  }

  private static double expanded(Result r) {
    return r.outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0)
        : 0;
  }

  private static double value(LimitAnswerCandidate of) {
    return of.result().outcome() instanceof ComputationOutcome.Value v
        ? v.value()
        : ((ComputationOutcome.Bound) of.result().outcome()).value();
  }

  /** The value between two, with the larger of their uncertainties; of two bounds the weaker. */
  private static Optional<ComputationOutcome> outcome(
      ComputationOutcome a, ComputationOutcome b, double share) {
    if (a instanceof ComputationOutcome.Value x && b instanceof ComputationOutcome.Value y) {
      double value = x.value() + share * (y.value() - x.value());
      Optional<ComputationOutcome.Uncertainty> u =
          x.uncertainty().flatMap(p -> y.uncertainty().map(q -> larger(p, q, value)));
      return Optional.of(new ComputationOutcome.Value(value, u, Math.min(x.n(), y.n())));
    }
    if (a instanceof ComputationOutcome.Bound x
        && b instanceof ComputationOutcome.Bound y
        && x.side() == y.side()) {
      boolean above = x.side() == ComputationOutcome.Side.ABOVE;
      double weaker = above ? Math.min(x.value(), y.value()) : Math.max(x.value(), y.value());
      return Optional.of(new ComputationOutcome.Bound(x.side(), weaker, Math.min(x.n(), y.n())));
    }
    return Optional.empty();
  }

  private static ComputationOutcome.Uncertainty larger(
      ComputationOutcome.Uncertainty p, ComputationOutcome.Uncertainty q, double value) {
    ComputationOutcome.Uncertainty u = p.expanded() >= q.expanded() ? p : q;
    return new ComputationOutcome.Uncertainty(
        u.standard(),
        u.expanded(),
        value - u.expanded(),
        value + u.expanded(),
        u.coverage(),
        u.coverageFactor(),
        u.degreesOfFreedom());
  }
}
