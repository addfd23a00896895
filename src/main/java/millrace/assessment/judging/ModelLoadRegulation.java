// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ResponsePrediction;
import millrace.analysis.response.UnitResponse;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.datasheet.Datasheet;
import millrace.evidence.MeasurementModel;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * Output conductance and load regulation where they were not measured, as a difference of two
 * predictions of the unit's model (methods.md 11.3).
 */
final class ModelLoadRegulation {
  /** Share of the edge of the domain: the plateau line ends at 0.8 V_c, the edge at 0.95. */
  private static final double SHARE = 0.8 / 0.95;

  private final RangeLimit promise;
  private final Datasheet sheet;
  private final Optional<RangeResponse> response;

  ModelLoadRegulation(RangeLimit promise, Datasheet sheet, Optional<UnitResponse> unit) {
    this.promise = promise;
    this.sheet = sheet;
    ResultQuantity quantity = promise.stated().quantity();
    boolean slope =
        quantity == ResultQuantity.LOAD_REGULATION || quantity == ResultQuantity.OUTPUT_CONDUCTANCE;
    this.response = slope ? unit.flatMap(u -> u.range(promise.range().name())) : Optional.empty();
  }

  /** The model's value at a temperature; empty if it has none. */
  Optional<LimitAnswerCandidate> at(double degC) {
    return response.flatMap(r -> at(r, degC));
  }

  private Optional<LimitAnswerCandidate> at(RangeResponse r, double degC) {
    double low = r.domain().voltageV().lower();
    double high = SHARE * r.domain().edgeV(degC);
    if (!(high > low)) {
      return Optional.empty();
    }
    Optional<ResponsePrediction.Value> first =
        r.at(PredictionCondition.atVoltage(degC, low)).value();
    Optional<ResponsePrediction.Value> last =
        r.at(PredictionCondition.atVoltage(degC, high)).value();
    return first.flatMap(a -> last.map(b -> candidate(a, b, degC, high - low)));
  }

  private LimitAnswerCandidate candidate(
      ResponsePrediction.Value a, ResponsePrediction.Value b, double degC, double apartV) {
    Estimate perV = b.errorPpm().minus(a.errorPpm()).times(1 / apartV);
    boolean regulation = promise.stated().quantity() == ResultQuantity.LOAD_REGULATION;
    Estimate value = regulation ? perV : perV.times(-1e-6 * Math.abs(promise.range().nominalA()));
    return new LimitAnswerCandidate(
        ResultBuilder.value(
                new ResultBuilder.Subject(
                    promise.stated().quantity(),
                    Optional.of(promise.range().name()),
                    ResultConditions.of(ResultConditionKey.TEMPERATURE_DEGC, degC),
                    regulation ? Optional.of("I_N") : Optional.empty(),
                    "difference of two predictions of the unit's model, Methods of Millrace 11.3",
                    sheet.coverage()),
                value,
                2,
                List.of(PredictionBasis.note(b)))
            .by(
                MeasurementModel.of(
                        "%s, y the unit's model (Methods of Millrace 11.1)"
                            .formatted(
                                regulation
                                    ? "S = (y_2 - y_1)/(V_2 - V_1)"
                                    : "G = -I_N (y_2 - y_1)/(V_2 - V_1)"))
                    .with("I_N", "A", promise.range().nominalA())
                    .with("V_1, V_2", "V", a.voltageV(), b.voltageV())
                    .with("y_1, y_2", "ppm", a.errorPpm().value(), b.errorPpm().value())),
        PredictionBasis.of(b),
        OptionalDouble.of(degC));
  }
}
