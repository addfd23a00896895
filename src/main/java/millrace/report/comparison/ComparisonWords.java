// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import millrace.analysis.batch.GaugeIntervals;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.Spread;
import millrace.analysis.batch.Yield;
import millrace.assessment.comparison.Compared;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Distribution;
import millrace.evidence.Outcome;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.report.page.Sheet;
import millrace.report.words.Figures;
import millrace.report.words.RepairHint;

/** What a comparison found, in words and figures, for terminal and page alike. */
final class ComparisonWords {
  private static final int MOST_RUNS = 10;
  private static final int MOST_CANCELLED = 2;

  private ComparisonWords() {}

  static String head(Comparison c) {
    long units = c.runs().stream().map(Compared::unit).distinct().count();
    return "%s%s of %s"
        .formatted(
            c.simulated() ? Sheet.SIMULATED + ": " : "",
            Numbers.counted(c.runs().size(), "run"),
            Numbers.counted(units, "unit"));
  }

  /** The yield of all, and of each batch where there are several. */
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
                .formatted(Numbers.counted(yield.refused(), "further test"));
    String after =
        yield.retests() == 0
            ? "no retests"
            : "after %s %s"
                .formatted(
                    Numbers.counted(yield.retests(), "retest"),
                    MeasurandWords.share(yield.afterRetest()));
    return "%s: first pass %s; %s%s"
        .formatted(which, MeasurandWords.share(yield.firstPass()), after, refused);
  }

  static String bins(Map<String, Long> bins) {
    return String.join(
        ", ", bins.entrySet().stream().map(e -> e.getKey() + " " + e.getValue()).toList());
  }

  /** Where a repairer looks. */
  static String hint(Comparison.Blamed blamed) {
    return blamed
        .diagnosis()
        .flatMap(RepairHint::of)
        .orElse("no cause is likelier than all others together");
  }

  /** The numbers of the first few. */
  static String runs(List<Long> runs) {
    String first = String.join(", ", runs.stream().limit(MOST_RUNS).map(String::valueOf).toList());
    return runs.size() > MOST_RUNS
        ? first + " and %s more".formatted(runs.size() - MOST_RUNS)
        : first;
  }

  /** Units and runs, the farthest first. */
  static String named(Distribution d, List<Long> runs) {
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

  /** The first of what cancelled: the largest, since budgets are ordered so. */
  static String largest(List<String> cancelled) {
    if (cancelled.size() <= MOST_CANCELLED + 1) {
      return String.join(", ", cancelled);
    }
    return String.join(", ", cancelled.subList(0, MOST_CANCELLED))
        + " and %s smaller ones".formatted(cancelled.size() - MOST_CANCELLED);
  }

  static String change(Comparison.Drift d) {
    double u = d.change().uncertainty().map(Outcome.Uncertainty::expanded).orElse(0.0);
    return Figures.pair(d.change().value(), u, d.what().quantity().unit());
  }

  /** The difference of the means, and half of its interval. */
  static String difference(Comparison.Contrast k) {
    Interval i = k.comparison().interval();
    return Figures.pair(
        k.comparison().difference(), (i.upper() - i.lower()) / 2, k.what().quantity().unit());
  }

  /** Standard deviation in ppm; empty text where one value has none. */
  static String scatter(Spread ppm) {
    return ppm.scatter().isPresent() ? Figures.size(ppm.scatter().getAsDouble(), "ppm") : "";
  }

  /** A standard deviation with its interval. */
  static String root(
      double variance, Comparison.Gauge g, Function<GaugeIntervals, Interval> interval) {
    String unit = g.what().quantity().unit();
    String value = Figures.size(Math.sqrt(variance), unit);
    return g.intervals()
        .map(interval)
        .map(i -> together(value, Figures.size(i.lower(), unit), Figures.size(i.upper(), unit)))
        .orElse(value);
  }

  /** A value and its interval, the unit once where it is the same in all three. */
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

  /** Whole numbers, with the interval. */
  static String categories(Comparison.Gauge g) {
    if (g.study().distinctCategories().isEmpty()) {
      return "";
    }
    String value = Numbers.fixed(g.study().distinctCategories().getAsDouble(), 0);
    return g.intervals()
        .map(GaugeIntervals::distinctCategories)
        .map(
            i ->
                "%s (%s to %s)"
                    .formatted(value, Numbers.fixed(i.lower(), 0), Numbers.fixed(i.upper(), 0)))
        .orElse(value);
  }

  /** What stands under 'set-up reproducibility' in the wiring of a bench file. */
  static String setUpWords(Comparison.SetUpStudy s) {
    return "{range: %s, u: %s, connections: %s}"
        .formatted(
            Quantities.print(s.nominalA(), Dimension.CURRENT),
            Quantities.print(s.ownPpm() * 1e-6, Dimension.RATIO, 3),
            s.connectionsPpm().n());
  }

  static String setUpInterval(Comparison c, Comparison.SetUpStudy s) {
    var interval = s.connectionsPpm().sdInterval(c.coverage());
    return Figures.size(interval.lower(), "ppm") + " to " + Figures.size(interval.upper(), "ppm");
  }
}
