// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.PromisedConditionBox;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ResponsePrediction;
import millrace.analysis.response.UnitResponse;
import millrace.analysis.response.WorstConditionOfBox;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.datasheet.Datasheet;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.ClosedInterval;

/**
 * A limit on the current or its error, judged at the worst condition of its whole box by the unit's
 * model (methods.md 7.1, 11).
 */
final class CurrentLimitJudge {
  private static final double PPM = 1e6;

  private final RangeLimit promise;
  private final Datasheet sheet;
  private final Optional<UnitResponse> unit;
  private final MeasuredConditions known;

  CurrentLimitJudge(
      RangeLimit promise, Datasheet sheet, Optional<UnitResponse> unit, MeasuredConditions known) {
    this.promise = promise;
    this.sheet = sheet;
    this.unit = unit;
    this.known = known;
  }

  Result judged() {
    String name = promise.range().name();
    Optional<RangeResponse> response = unit.flatMap(u -> u.range(name));
    boolean unknown = known.temperatureDegC().isEmpty();
    if (response.isEmpty() || unknown) {
      String why =
          unknown
              ? LimitTemperatures.UNKNOWN
              : unit.flatMap(u -> u.whyNot(name))
                  .orElse("range " + name + " was not measured: measure it");
      return UnjudgedLimits.missing(promise, sheet, List.of(why), 0);
    }
    return judged(response.get());
  }

  /**
   * A fail inside the known part of the box is a fail, whatever the rest would show; a box with a
   * missing part never passes.
   */
  private Result judged(RangeResponse response) {
    WorstConditionOfBox worst =
        WorstConditionOfBox.of(response, limitPpm(), box(promise.temperatureDegC(), volts()));
    return Optional.of(worst)
        .filter(w -> w.prediction().isPresent())
        .map(w -> result(response, w, w.wanting()).judged(promise, sheet))
        .filter(r -> worst.wanting().isEmpty() || r.judgement().orElseThrow().failed())
        .orElseGet(() -> UnjudgedLimits.missing(promise, sheet, worst.wanting(), 0));
  }

  /**
   * Voltages in the direction of the current; limits without a voltage do not reach this method.
   */
  private ClosedInterval volts() {
    return promise.box().terminalVoltageV().orElseGet(() -> new ClosedInterval(0, 0));
  }

  private PromisedConditionBox box(ClosedInterval degC, ClosedInterval volts) {
    return new PromisedConditionBox(degC, volts, promise.box().supplyV());
  }

  private Limit limitPpm() {
    Limit limit = promise.limit();
    return promise.stated().quantity() == ResultQuantity.CURRENT_ERROR
        ? limit
        : inPpm(limit, promise.range().nominalA());
  }

  private static Limit inPpm(Limit amperes, double nominalA) {
    OptionalDouble a = ppm(amperes.lower(), nominalA);
    OptionalDouble b = ppm(amperes.upper(), nominalA);
    return nominalA > 0 ? new Limit(a, b) : new Limit(b, a);
  }

  private static OptionalDouble ppm(OptionalDouble amperes, double nominalA) {
    return amperes.isPresent()
        ? OptionalDouble.of((amperes.getAsDouble() / nominalA - 1) * PPM)
        : amperes;
  }

  private LimitAnswerCandidate result(
      RangeResponse response, WorstConditionOfBox worst, List<String> wanting) {
    PredictionCondition where = worst.condition().orElseThrow();
    ResponsePrediction.Value found = worst.prediction().orElseThrow();
    boolean error = promise.stated().quantity() == ResultQuantity.CURRENT_ERROR;
    ResultConditions at =
        ResultConditions.of(ResultConditionKey.TERMINAL_VOLTAGE_V, rounded(found.voltageV(), 1e4))
            .with(ResultConditionKey.TEMPERATURE_DEGC, rounded(where.temperatureDegC(), 1e2));
    if (where.supplyV().isPresent()) {
      at = at.with(ResultConditionKey.SUPPLY_V, where.supplyV().getAsDouble());
    }
    BoxJudgementBasis covers = PredictionBasis.of(found).wanting(wanting);
    List<String> notes = new ArrayList<>(List.of(PredictionBasis.note(found)));
    Result result =
        ResultBuilder.value(
                new ResultBuilder.Subject(
                    promise.stated().quantity(),
                    Optional.of(promise.range().name()),
                    at,
                    error ? Optional.of("I_N") : Optional.empty(),
                    "the unit's model at the worst condition of the limit, Methods of Millrace 7.1",
                    sheet.coverage()),
                error ? found.errorPpm() : found.currentA(),
                1,
                notes)
            .by(error ? response.errorModel(where) : response.model(where));
    return new LimitAnswerCandidate(result, covers, OptionalDouble.of(where.temperatureDegC()));
  }

  private static double rounded(double value, double scale) {
    return Math.round(value * scale) / scale;
  }
}
