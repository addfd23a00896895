// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadSweepRequest.Reference;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * The current at the reference condition and its deviation from nominal: the response at the
 * reference load or voltage and T_ref (methods.md 3.7). If points were measured there, u^2 includes
 * the deviation of the response from them beyond their own u. Pure; thread-safe.
 */
public final class ReferenceCurrent {
  private static final String METHOD =
      "response at the reference, Methods of Millrace 3.7 and 11.3";
  private static final double SAME_RATIO = 0.01;
  private static final double SAME_V = 0.01;
  private static final double PPM = 1e6;

  private final RangeResponse response;
  private final Reference reference;
  private final double coverage;

  /**
   * Takes a response.
   *
   * @param response the response of the range
   * @param reference the reference condition
   * @param coverage probability of intervals
   */
  public ReferenceCurrent(RangeResponse response, Reference reference, double coverage) {
    this.response = response;
    this.reference = reference;
    this.coverage = coverage;
  }

  /**
   * The error of the current at T_ref (methods.md 3.7).
   *
   * @return ppm of I_N, or the measurements that are missing
   */
  public Result error() {
    Subject subject =
        subject(
            ResultQuantity.CURRENT_ERROR,
            where(ResultConditions.NONE, reference),
            Optional.of("I_N"));
    return result(subject, response.referenceDegC(), v -> v.errorPpm());
  }

  /**
   * The current at a temperature (methods.md 3.7).
   *
   * @param degC temperature of the unit, degC; empty for T_ref if no temperature is known
   * @return A, or the measurements that are missing
   */
  public Result current(OptionalDouble degC) {
    ResultConditions at =
        degC.isPresent()
            ? ResultConditions.of(ResultConditionKey.TEMPERATURE_DEGC, degC.getAsDouble())
            : ResultConditions.NONE;
    Subject subject = subject(ResultQuantity.CURRENT, where(at, reference), Optional.empty());
    return result(subject, degC.orElse(response.referenceDegC()), v -> v.currentA());
  }

  /**
   * Results with the reason that a range has neither.
   *
   * @param range the range
   * @param reference the reference condition
   * @param coverage probability of intervals
   * @param reason in words
   * @return a result that says so
   */
  public static Result missing(String range, Reference reference, double coverage, String reason) {
    return ResultBuilder.missing(
        new Subject(
            ResultQuantity.CURRENT_ERROR,
            Optional.of(range),
            where(ResultConditions.NONE, reference),
            Optional.of("I_N"),
            METHOD,
            coverage),
        reason,
        0);
  }

  /**
   * The error of a range without a response, from the points measured at the reference.
   *
   * @param there the range, its reference condition, and the reason that it has no response
   * @param currentsA measured at the reference and near T_ref, A
   * @param coverage probability of intervals
   * @return ppm of I_N; missing where nothing was measured there
   */
  public static Result fromPoints(Unfitted there, List<Estimate> currentsA, double coverage) {
    if (currentsA.isEmpty()) {
      return missing(there.range(), there.reference(), coverage, there.reason());
    }
    Subject subject =
        new Subject(
            ResultQuantity.CURRENT_ERROR,
            Optional.of(there.range()),
            where(ResultConditions.NONE, there.reference()),
            Optional.of("I_N"),
            "mean of the points at the reference, Methods of Millrace 3.7",
            coverage);
    Estimate mean = Estimate.mean(currentsA).times(PPM / there.nominalA()).plus(-PPM);
    return ResultBuilder.value(subject, mean, currentsA.size(), List.of(there.reason()))
        .by(
            MeasurementModel.of("I/I_N - 1 = mean of I_i/I_N - 1")
                .with("I_N", "A", there.nominalA())
                .with("I_i", "A", currentsA.stream().map(Estimate::value).toList()));
  }

  /**
   * A range without a response.
   *
   * @param range its name
   * @param nominalA I_N, A, not 0
   * @param reference the reference condition
   * @param reason the reason that it has none, in words
   */
  public record Unfitted(String range, double nominalA, Reference reference, String reason) {}

  private static ResultConditions where(ResultConditions at, Reference reference) {
    return at.with(
        reference.isVoltage() ? ResultConditionKey.TERMINAL_VOLTAGE_V : ResultConditionKey.LOAD_OHM,
        reference.value());
  }

  private Subject subject(ResultQuantity quantity, ResultConditions at, Optional<String> base) {
    return new Subject(quantity, Optional.of(response.range()), at, base, METHOD, coverage);
  }

  /** The kind of result: current or error. */
  @FunctionalInterface
  private interface Which {
    Estimate of(ResponsePrediction.Value value);
  }

  private Result result(Subject subject, double degC, Which which) {
    PredictionCondition condition =
        reference.isVoltage()
            ? PredictionCondition.atVoltage(degC, reference.value())
            : PredictionCondition.atLoad(degC, reference.value());
    ResponsePrediction prediction =
        response.temperatureKnown()
            ? response.at(condition)
            : response.whateverTemperature(condition);
    if (prediction.value().isEmpty()) {
      return ResultBuilder.missing(subject, prediction.missing().orElse("not known"), response.n());
    }
    ResponsePrediction.Value value = prediction.value().get();
    Estimate grown = which.of(value).with(departure(value, degC), perPpm(value, which));
    boolean error = subject.quantity() == ResultQuantity.CURRENT_ERROR;
    return result(subject, grown, notes(value))
        .by(error ? response.errorModel(condition) : response.model(condition));
  }

  private Result result(Subject subject, Estimate value, List<String> notes) {
    Budget budget = Budget.of(value);
    Optional<ComputationOutcome.Uncertainty> uncertainty =
        response.uncertaintyKnown() ? Optional.of(budget.uncertainty(coverage)) : Optional.empty();
    if (uncertainty.isEmpty()) {
      notes.add("uncertainty not evaluated: none is known for the readings");
    }
    if (uncertainty.isPresent() && budget.shapedByOneRectangle()) {
      notes.add(Budget.SHAPED_BY_RECTANGLE);
    }
    return ResultBuilder.result(
        subject,
        new ComputationOutcome.Value(value.value(), uncertainty, response.n()),
        uncertainty.isPresent() ? budget.components() : List.of(),
        notes);
  }

  /** Sensitivity of the result per ppm of error. */
  private double perPpm(ResponsePrediction.Value value, Which which) {
    return which.of(value) == value.errorPpm() ? 1 : response.nominalA() / PPM;
  }

  private List<String> notes(ResponsePrediction.Value value) {
    List<String> notes = new ArrayList<>();
    notes.add(value.text());
    if (!response.temperatureKnown()) {
      notes.add("no temperature is known: not corrected to T_ref");
    }
    value.leansOn().forEach(f -> notes.add("not measured on this unit, taken from " + f.inWords()));
    notes.addAll(response.notes());
    return notes;
  }

  /** Deviation of the response from points measured there, beyond their own u. */
  private ErrorSource departure(ResponsePrediction.Value value, double degC) {
    List<Estimate> off = new ArrayList<>();
    double sign = Math.signum(response.nominalA());
    double reach = Math.max(SAME_V, SAME_RATIO * Math.abs(value.voltageV()));
    for (ResponsePoint p : response.points()) {
      double volts = sign * p.voltageV().value();
      boolean here =
          Math.abs(volts - value.voltageV()) <= reach
              && Math.abs(p.temperatureDegC().value() - degC) <= ResponseFitPoints.SAME_K;
      if (here) {
        double model = response.errorAndUPpm(p.temperatureDegC().value(), volts)[0];
        off.add(p.currentA().times(PPM / response.nominalA()).plus(-PPM - model));
      }
    }
    double square = 0;
    if (!off.isEmpty()) {
      Estimate mean = Estimate.mean(off);
      double u = mean.pointUncertainty();
      square = Math.max(0, mean.value() * mean.value() - u * u);
    }
    return ErrorSource.normal(
        "departure from the points there",
        ErrorSource.RUN,
        response.range() + " at the reference",
        Math.sqrt(square),
        "ppm");
  }
}
