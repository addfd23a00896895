// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.UnitResponse;
import millrace.datasheet.Datasheet;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * A limit on something that is measured at one temperature at a time. Between temperatures the
 * quantity is interpolated ({@link BetweenTemperatures}); slopes over voltage that were not
 * measured come from the unit's model (methods.md 7.1, 11.3, 11.4).
 */
final class PerTemperatureLimitJudge {
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
    return below.flatMap(
        a -> above.flatMap(b -> new BetweenTemperatures(a, b, degC, sheet.coverage()).found()));
  }
}
