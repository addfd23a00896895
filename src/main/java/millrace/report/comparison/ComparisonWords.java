// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.GaugeIntervals;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.Yield;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.page.ReportContext;
import millrace.report.words.RepairHint;
import millrace.report.words.ResultFigures;

/** Findings of a comparison in words and figures, for terminal and page. */
final class ComparisonWords {
  private static final int MOST_RUNS = 10;
  private static final int MOST_CANCELLED = 2;

  private ComparisonWords() {}

  static String head(Comparison c) {
    long units = c.runs().stream().map(ComparedRun::unit).distinct().count();
    return "%s%s of %s"
        .formatted(
            c.simulated() ? ReportContext.SIMULATED + ": " : "",
            NumberText.counted(c.runs().size(), "run"),
            NumberText.counted(units, "unit"));
  }

  /** The yield of all units, and of each batch if there are several. */
  static List<String> yieldLines(Comparison c) {
    boolean several = c.yields().size() > 2;
    return c.yields().entrySet().stream()
        .filter(e -> several || e.getKey().equals(Comparison.ALL))
        .map(e -> yieldWords(e.getKey(), e.getValue()))
        .toList();
  }

  static String yieldWords(String batch, Yield yield) {
    String which = batch.equals(Comparison.ALL) ? "yield" : "yield of " + batch;
    String refused =
        yield.refused() == 0
            ? ""
            : "; %s did not count (no cause, or too many)"
                .formatted(NumberText.counted(yield.refused(), "further test"));
    String after =
        yield.retests() == 0
            ? "no retests"
            : "after %s %s"
                .formatted(
                    NumberText.counted(yield.retests(), "retest"),
                    MeasurandWords.share(yield.afterRetest()));
    return "%s: first pass %s; %s%s"
        .formatted(which, MeasurandWords.share(yield.firstPass()), after, refused);
  }

  static String bins(Map<String, Long> bins) {
    return String.join(
        ", ", bins.entrySet().stream().map(e -> e.getKey() + " " + e.getValue()).toList());
  }

  /** The part to look at in a repair. */
  static String hint(Comparison.Blamed blamed) {
    return blamed
        .diagnosis()
        .flatMap(RepairHint::of)
        .orElse("no cause is likelier than all others together");
  }

  /** The numbers of the first few runs. */
  static String runs(List<Long> runs) {
    String first = String.join(", ", runs.stream().limit(MOST_RUNS).map(String::valueOf).toList());
    return runs.size() > MOST_RUNS
        ? first + " and %s more".formatted(runs.size() - MOST_RUNS)
        : first;
  }

  /** Units and runs, the farthest first. */
  static String named(BatchDistribution d, List<Long> runs) {
    List<String> names =
        runs.stream()
            .limit(MOST_RUNS)
            .map(
                id ->
                    d.entries().stream()
                        .filter(e -> e.run().run().id() == id)
                        .findFirst()
                        .map(e -> e.run().unit() + " (run " + id + ")")
                        .orElse("run " + id))
            .toList();
    int more = runs.size() - names.size();
    return String.join(", ", names) + (more > 0 ? " and %s more".formatted(more) : "");
  }

  /** The first cancelled component; it is the largest, since budgets are sorted by size. */
  static String largest(List<String> cancelled) {
    if (cancelled.size() <= MOST_CANCELLED + 1) {
      return String.join(", ", cancelled);
    }
    return String.join(", ", cancelled.subList(0, MOST_CANCELLED))
        + " and %s smaller ones".formatted(cancelled.size() - MOST_CANCELLED);
  }

  static String change(Comparison.Drift d) {
    double u = d.change().uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0);
    return ResultFigures.pair(d.change().value(), u, d.what().quantity().unit());
  }

  /** The difference of the means, with half the width of its interval. */
  static String difference(Comparison.Contrast k) {
    Interval i = k.comparison().interval();
    return ResultFigures.pair(
        k.comparison().difference(), (i.upper() - i.lower()) / 2, k.what().quantity().unit());
  }

  /** The standard deviation in ppm; empty text for a single value. */
  static String scatter(BatchMeanAndSpread ppm) {
    return ppm.scatter().isPresent() ? ResultFigures.size(ppm.scatter().getAsDouble(), "ppm") : "";
  }

  /** A standard deviation with its interval. */
  static String root(
      double variance, Comparison.Gauge g, Function<GaugeIntervals, Interval> interval) {
    String unit = g.what().quantity().unit();
    String value = ResultFigures.size(Math.sqrt(variance), unit);
    return g.intervals()
        .map(interval)
        .map(
            i ->
                together(
                    value,
                    ResultFigures.size(i.lower(), unit),
                    ResultFigures.size(i.upper(), unit)))
        .orElse(value);
  }

  /** A value and its interval; the unit is given once if it is the same for all three. */
  private static String together(String value, String low, String high) {
    int at = value.indexOf(' ');
    String unit = at < 0 ? "" : value.substring(at);
    return low.endsWith(unit) && high.endsWith(unit) && !unit.isEmpty()
        ? "%s (%s to %s)%s"
            .formatted(
                value.substring(0, at),
                low.substring(0, low.length() - unit.length()),
                high.substring(0, high.length() - unit.length()),
                unit)
        : "%s (%s to %s)".formatted(value, low, high);
  }

  /** The number of categories as a whole number, with its interval. */
  static String categories(Comparison.Gauge g) {
    if (g.study().distinctCategories().isEmpty()) {
      return "";
    }
    String value = NumberText.fixed(g.study().distinctCategories().getAsDouble(), 0);
    return g.intervals()
        .map(GaugeIntervals::distinctCategories)
        .map(
            i ->
                "%s (%s to %s)"
                    .formatted(
                        value, NumberText.fixed(i.lower(), 0), NumberText.fixed(i.upper(), 0)))
        .orElse(value);
  }

  /** The text for 'set-up reproducibility' in the wiring of a bench file. */
  static String setUpWords(Comparison.SetUpStudy s) {
    return "{range: %s, u: %s, connections: %s}"
        .formatted(
            QuantityText.print(s.nominalA(), Dimension.CURRENT),
            QuantityText.print(s.ownPpm() * 1e-6, Dimension.RATIO, 3),
            s.connectionsPpm().n());
  }

  static String setUpInterval(Comparison c, Comparison.SetUpStudy s) {
    var interval = s.connectionsPpm().sdInterval(c.coverage());
    return ResultFigures.size(interval.lower(), "ppm")
        + " to "
        + ResultFigures.size(interval.upper(), "ppm");
  }
}
