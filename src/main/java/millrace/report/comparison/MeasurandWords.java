// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.Optional;
import java.util.function.UnaryOperator;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.Capability;
import millrace.analysis.batch.ProportionInterval;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/** Measurands of a comparison in words and figures. */
final class MeasurandWords {
  private static final double PERCENT = 100;

  private MeasurandWords() {}

  /** The name on a page: conditions with print symbols, and the name of the range. */
  static String printed(Measurand m) {
    return name(m, PrintedUnitSymbols::of);
  }

  /** The name, with a typesetting for its conditions. */
  static String name(Measurand m, UnaryOperator<String> set) {
    return m.quantity().inWords()
        + m.range().map(r -> " of " + r).orElse("")
        + (at(m).isEmpty() ? "" : ", " + set.apply(at(m)));
  }

  static String at(Measurand m) {
    String at = ResultConditionWords.of(m.at());
    if (!m.worst()) {
      return at;
    }
    return at.isEmpty() ? "at its worst point" : "at its worst point, " + at;
  }

  /** A number with four digits, in the unit of the quantity. */
  static String number(double value, Measurand m) {
    return ResultFigures.number(value, m.quantity().unit());
  }

  /** One value of a batch, with the digits that the mean justifies. */
  static String among(BatchMeanAndSpread spread, double value, Measurand m) {
    double finer = spread.sd() / Math.sqrt(spread.n());
    return finer > 0 ? ResultFigures.resolved(value, finer, m.quantity().unit()) : number(value, m);
  }

  /** The standard deviation with three digits; empty text for a single value. */
  static String scatter(BatchMeanAndSpread spread, Measurand m) {
    if (spread.scatter().isEmpty()) {
      return "";
    }
    QuantityText.Scale scale = ResultFigures.scale(spread.sd(), m.quantity().unit());
    return (NumberText.significant(spread.sd() / scale.size(), 3) + " " + scale.symbol()).strip();
  }

  static String limit(Optional<Limit> limit, Measurand m) {
    return limit.map(l -> ResultFigures.rounded(l, m.quantity().unit())).orElse("");
  }

  static String index(Capability.Index index) {
    return "%s (%s to %s)"
        .formatted(
            NumberText.fixed(index.value(), 2),
            NumberText.fixed(index.interval().lower(), 2),
            NumberText.fixed(index.interval().upper(), 2));
  }

  static String share(ProportionInterval share) {
    return "%s of %s, %s %% (%s to %s %%)"
        .formatted(
            share.count(),
            share.of(),
            NumberText.fixed(PERCENT * share.value(), 1),
            NumberText.fixed(PERCENT * share.interval().lower(), 1),
            NumberText.fixed(PERCENT * share.interval().upper(), 1));
  }

  static String percent(double ratio) {
    return NumberText.significant(PERCENT * ratio, 3) + " %";
  }
}
