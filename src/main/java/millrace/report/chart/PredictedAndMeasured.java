// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.analysis.design.DesignForecast;
import millrace.analysis.design.DesignPrediction;
import millrace.analysis.design.DeviationContribution;
import millrace.assessment.Assessment;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.ResultFigures;

/**
 * Prediction and measurement of one quantity of one range.
 *
 * @param range the range
 * @param quantity the quantity
 * @param spread the prediction
 * @param measured the measured value; empty if not measured
 */
public record PredictedAndMeasured(
    String range,
    ResultQuantity quantity,
    DesignForecast.Spread spread,
    Optional<Result> measured) {
  private static final int SHARES = 2;

  /** All predictions, each with the measured value if there is one. */
  public static List<PredictedAndMeasured> of(
      DesignPrediction prediction, Optional<Assessment> run) {
    return prediction.ranges().stream()
        .filter(f -> f.spread().isPresent())
        .map(
            f ->
                new PredictedAndMeasured(
                    f.range(),
                    f.quantity(),
                    f.spread().orElseThrow(),
                    run.flatMap(a -> measured(f, a))))
        .toList();
  }

  /** The measured result for a forecast; of several, the one nearest to T_ref. */
  private static Optional<Result> measured(DesignForecast forecast, Assessment run) {
    double reference = run.basis().referenceDegC();
    return run.results().stream()
        .filter(r -> r.quantity() == forecast.quantity())
        .filter(r -> forecast.quantity() != ResultQuantity.CURRENT)
        .filter(r -> r.range().equals(Optional.of(forecast.range())))
        .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
        .min(
            Comparator.comparingDouble(
                r ->
                    Math.abs(
                        r.at().number(ResultConditionKey.TEMPERATURE_DEGC).orElse(reference)
                            - reference)));
  }

  /** The measured value; 0 if there is none. */
  public double value() {
    return measured
        .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
        .map(r -> ((ComputationOutcome.Value) r.outcome()).value())
        .orElse(0.0);
  }

  /** The expanded uncertainty of the measured value; 0 if there is none. */
  public double expanded() {
    return measured
        .flatMap(ResultFigures::uncertainty)
        .map(ComputationOutcome.Uncertainty::expanded)
        .orElse(0.0);
  }

  /** The measured value compared with the prediction, in words. */
  public String verdict() {
    if (within(spread.lower(), spread.upper())) {
      return "agrees within U";
    }
    return within(spread.lowest(), spread.highest())
        ? "outside, within the worst case"
        : "outside the worst case";
  }

  private boolean within(double low, double high) {
    return value() + expanded() >= low && value() - expanded() <= high;
  }

  /** The largest shares of the budget, in words. */
  public String shares() {
    return spread.shares().stream()
        .limit(SHARES)
        .map(PredictedAndMeasured::share)
        .collect(Collectors.joining("; "));
  }

  private static String share(DeviationContribution share) {
    return share.part() + " " + share.kind().text() + ": " + percent(share.share());
  }

  /**
   * A share in percent, with one decimal below a tenth.
   *
   * @param share 0 to 1
   */
  public static String percent(double share) {
    return NumberText.fixed(100 * share, share < 0.1 ? 1 : 0) + " %";
  }

  /** An interval in words. */
  public String stretch(double low, double high) {
    return PrintedUnitSymbols.of(
        low < high
            ? ResultFigures.rounded(
                new Limit(OptionalDouble.of(low), OptionalDouble.of(high)), quantity.unit())
            : ResultFigures.number(low, quantity.unit()));
  }
}
