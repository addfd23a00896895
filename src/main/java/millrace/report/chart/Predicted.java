// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.analysis.design.Forecast;
import millrace.analysis.design.Prediction;
import millrace.analysis.design.Share;
import millrace.assessment.Assessment;
import millrace.evidence.AtKey;
import millrace.evidence.Limit;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Numbers;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;

/**
 * What was predicted of one quantity of one range, and what was measured of it.
 *
 * @param range the range
 * @param quantity the quantity
 * @param spread what was predicted
 * @param measured a value; empty where nothing was measured
 */
public record Predicted(
    String range, ResultQuantity quantity, Forecast.Spread spread, Optional<Result> measured) {
  private static final int SHARES = 2;

  /** All that could be predicted, beside what a run measured if there is one. */
  public static List<Predicted> of(Prediction prediction, Optional<Assessment> run) {
    return prediction.ranges().stream()
        .filter(f -> f.spread().isPresent())
        .map(
            f ->
                new Predicted(
                    f.range(),
                    f.quantity(),
                    f.spread().orElseThrow(),
                    run.flatMap(a -> measured(f, a))))
        .toList();
  }

  /** The result that a forecast is about: of several the one nearest to T_ref. */
  private static Optional<Result> measured(Forecast forecast, Assessment run) {
    double reference = run.basis().referenceDegC();
    return run.results().stream()
        .filter(r -> r.quantity() == forecast.quantity())
        .filter(r -> forecast.quantity() != ResultQuantity.CURRENT)
        .filter(r -> r.range().equals(Optional.of(forecast.range())))
        .filter(r -> r.outcome() instanceof Outcome.Value)
        .min(
            Comparator.comparingDouble(
                r ->
                    Math.abs(r.at().number(AtKey.TEMPERATURE_DEGC).orElse(reference) - reference)));
  }

  /** The measured value; 0 without one. */
  public double value() {
    return measured
        .filter(r -> r.outcome() instanceof Outcome.Value)
        .map(r -> ((Outcome.Value) r.outcome()).value())
        .orElse(0.0);
  }

  /** Its expanded uncertainty; 0 without one. */
  public double expanded() {
    return measured.flatMap(Figures::uncertainty).map(Outcome.Uncertainty::expanded).orElse(0.0);
  }

  /** How what was measured stands to what was predicted, in words. */
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

  /** What uses most of the budget, in words. */
  public String shares() {
    return spread.shares().stream()
        .limit(SHARES)
        .map(Predicted::share)
        .collect(Collectors.joining("; "));
  }

  private static String share(Share share) {
    return share.part() + " " + share.kind().text() + ": " + percent(share.share());
  }

  /**
   * A share as a percentage, with a decimal below a tenth.
   *
   * @param share 0 to 1
   */
  public static String percent(double share) {
    return Numbers.fixed(100 * share, share < 0.1 ? 1 : 0) + " %";
  }

  /** A stretch in words. */
  public String stretch(double low, double high) {
    return Symbols.of(
        low < high
            ? Figures.rounded(
                new Limit(OptionalDouble.of(low), OptionalDouble.of(high)), quantity.unit())
            : Figures.number(low, quantity.unit()));
  }
}
