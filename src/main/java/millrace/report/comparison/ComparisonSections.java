// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.GaugeIntervals;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.LimitMargin;
import millrace.report.words.ResultFigures;
import millrace.report.words.ResultWords;

/** Tables of a comparison, below its charts. */
final class ComparisonSections {
  private final Markup out;
  private final Comparison comparison;

  ComparisonSections(Markup out, Comparison comparison) {
    this.out = out;
    this.comparison = comparison;
  }

  void write() {
    signals();
    trends();
    contrasts();
    drifts();
    setUps();
    unlimited();
    runs();
  }

  /** Every failed unit, the farthest beyond a limit first. */
  void failed() {
    List<UnitWords.Failed> failed = new UnitWords(comparison).failed();
    if (failed.isEmpty()) {
      return;
    }
    open("Units that failed");
    HtmlTable table =
        HtmlTable.open(
            out,
            "By the limit that each misses by most, those farthest beyond first",
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.figures("Run"),
            HtmlTable.Column.words("Fails by"),
            HtmlTable.Column.words("Value, limit"),
            HtmlTable.Column.figures("More limits"));
    for (UnitWords.Failed f : failed) {
      table
          .begin()
          .head(f.run().unit())
          .figures(String.valueOf(f.run().run().id()))
          .cell(ResultWords.name(f.by()))
          .cell(
              PrintedUnitSymbols.of(
                  ResultWords.figures(f.by()) + ", " + LimitMargin.inWords(f.by())))
          .figures(f.more() == 0 ? "" : String.valueOf(f.more()))
          .end();
    }
    table.close();
    out.close();
  }

  private void signals() {
    List<ControlChartSignalWords.Said> said = ControlChartSignalWords.of(comparison);
    if (said.isEmpty()) {
      return;
    }
    out.line()
        .open("section", "class", "small signals")
        .element("h2", "Signals of the control charts");
    out.element("p", ControlChartSignalWords.CHANCE);
    HtmlTable table =
        HtmlTable.open(
            out,
            "By quantity; units with their runs",
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.words("What is seen"),
            HtmlTable.Column.words("In"));
    Map<List<String>, List<String>> by = new LinkedHashMap<>();
    said.forEach(
        s ->
            by.computeIfAbsent(
                    List.of(MeasurandWords.printed(s.of().what()), s.words()),
                    k -> new ArrayList<>())
                .add(s.where()));
    by.forEach(
        (key, where) ->
            table
                .begin()
                .head(key.get(0))
                .cell(PrintedUnitSymbols.of(key.get(1)))
                .cell(PrintedUnitSymbols.of(String.join("; ", where)))
                .end());
    table.close();
    out.close();
  }

  /** Quantities without a limit. */
  private void unlimited() {
    List<BatchDistribution> others =
        comparison.distributions().stream()
            .filter(d -> !d.judged() && d.statistics().isPresent())
            .toList();
    if (others.isEmpty()) {
      return;
    }
    open("What has no limit");
    HtmlTable table =
        HtmlTable.open(
            out,
            "Mean and scatter over units",
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("n"),
            HtmlTable.Column.figures("Mean"),
            HtmlTable.Column.figures("Standard deviation"),
            HtmlTable.Column.figures("Least"),
            HtmlTable.Column.figures("Largest"));
    for (BatchDistribution d : others) {
      BatchMeanAndSpread s = d.statistics().orElseThrow().spread();
      table
          .begin()
          .head(MeasurandWords.printed(d.what()))
          .figures(String.valueOf(s.n()))
          .figures(PrintedUnitSymbols.of(MeasurandWords.among(s, s.mean(), d.what())))
          .figures(PrintedUnitSymbols.of(MeasurandWords.scatter(s, d.what())))
          .figures(PrintedUnitSymbols.of(MeasurandWords.among(s, s.least(), d.what())))
          .figures(PrintedUnitSymbols.of(MeasurandWords.among(s, s.largest(), d.what())))
          .end();
    }
    table.close();
    out.close();
  }

  private void open(String heading) {
    out.line().open("section", "class", "small").element("h2", heading);
  }

  private void drifts() {
    if (comparison.drifts().isEmpty()) {
      return;
    }
    open("Units against their earlier selves");
    HtmlTable table =
        HtmlTable.open(
            out,
            "Later less earlier; errors that both runs share cancel",
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.words("Runs"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Change"),
            HtmlTable.Column.words("Found"),
            HtmlTable.Column.words("Cancelled"));
    for (Comparison.Drift d : comparison.drifts()) {
      table
          .begin()
          .head(d.later().unit())
          .cell(d.earlier().run().id() + " to " + d.later().run().id())
          .cell(MeasurandWords.printed(d.what()))
          .figures(PrintedUnitSymbols.of(ComparisonWords.change(d)))
          .cell(d.change().significant() ? "moved" : "")
          .cell(ComparisonWords.largest(d.change().cancelled()))
          .end();
    }
    table.close();
    out.close();
  }

  private void contrasts() {
    if (comparison.contrasts().isEmpty()) {
      return;
    }
    open("Each group against all others");
    out.element(
        "p",
        "'Differs' is said so rarely without cause that %s of all tables of groups that are alike"
                .formatted(MeasurandWords.percent(comparison.coverage()))
            + " do not say it once. The group is not among the others.");
    HtmlTable table =
        HtmlTable.open(
            out,
            "Difference of means (Welch), the least likely by chance first",
            HtmlTable.Column.words("Group"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Difference"),
            HtmlTable.Column.figures("p"),
            HtmlTable.Column.words("Found"));
    for (Comparison.Contrast k : ComparisonHighlights.likeliestFirst(comparison)) {
      table
          .begin()
          .head(DriftWords.named(k.group()))
          .cell(MeasurandWords.printed(k.what()))
          .figures(PrintedUnitSymbols.of(ComparisonWords.difference(k)))
          .figures(NumberText.significant(k.comparison().probability(), 2))
          .cell(comparison.differs(k) ? "differs" : "")
          .end();
    }
    table.close();
    out.close();
  }

  private void trends() {
    if (comparison.trends().isEmpty()) {
      return;
    }
    open("Drift in the order of time");
    HtmlTable table =
        HtmlTable.open(
            out,
            "From the first unit to the last (Theil and Sen; Mann and Kendall)",
            HtmlTable.Column.words("Of"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Units"),
            HtmlTable.Column.figures("First to last"),
            HtmlTable.Column.figures("p"),
            HtmlTable.Column.words("Found"));
    for (Comparison.Drifting t : comparison.trends()) {
      table
          .begin()
          .head(t.group().map(DriftWords::named).orElse("all"))
          .cell(MeasurandWords.printed(t.what()))
          .figures(String.valueOf(t.trend().n()))
          .figures(PrintedUnitSymbols.of(DriftWords.signed(t)))
          .figures(NumberText.significant(t.trend().probability(), 2))
          .cell(comparison.drifts(t) ? "drifts" : "")
          .end();
    }
    table.close();
    out.close();
  }

  /**
   * Gauge studies. They come first: whether the bench is good enough, then how well that is known.
   */
  void gauges() {
    if (comparison.gauges().isEmpty()) {
      return;
    }
    open("Gauge study");
    out.element(
        "p",
        "Of the tolerance a bench should take less than 10 %; above 30 % it cannot tell good units"
            + " from bad ones. At least 5 distinct categories are wanted. Intervals of %s."
                .formatted(MeasurandWords.percent(comparison.coverage())));
    HtmlTable table =
        HtmlTable.open(
            out,
            "Units crossed with " + comparison.gauges().get(0).across().several(),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.words("Bench"),
            HtmlTable.Column.figures("Of the tolerance"),
            HtmlTable.Column.figures("Categories"),
            HtmlTable.Column.figures("Repeatability"),
            HtmlTable.Column.figures("Reproducibility"),
            HtmlTable.Column.figures("Units"));
    for (Comparison.Gauge g : GaugeVerdict.worstFirst(comparison)) {
      var v = g.study().components();
      String between =
          ComparisonWords.root(v.operator() + v.interaction(), g, GaugeIntervals::reproducibility);
      table
          .begin()
          .head(MeasurandWords.printed(g.what()))
          .cell(GaugeVerdict.words(g))
          .figures(GaugeVerdict.ofTolerance(g))
          .figures(ComparisonWords.categories(g))
          .figures(
              PrintedUnitSymbols.of(
                  ComparisonWords.root(v.repeatability(), g, GaugeIntervals::repeatability)))
          .figures(PrintedUnitSymbols.of(between))
          .figures(PrintedUnitSymbols.of(ComparisonWords.root(v.unit(), g, GaugeIntervals::units)))
          .end();
    }
    table.close();
    out.close();
  }

  private void setUps() {
    if (comparison.setUps().isEmpty()) {
      return;
    }
    open("Reproducibility of the set-up");
    HtmlTable table =
        HtmlTable.open(
            out,
            "Scatter from connection to connection",
            HtmlTable.Column.words("Run"),
            HtmlTable.Column.words("Range, load"),
            HtmlTable.Column.figures("Connections"),
            HtmlTable.Column.figures("u of one"),
            HtmlTable.Column.words("Interval"),
            HtmlTable.Column.figures("Of it noise"),
            HtmlTable.Column.words("For the bench file"));
    for (Comparison.SetUpStudy s : comparison.setUps()) {
      table
          .begin()
          .head(String.valueOf(s.run()))
          .cell(s.range() + ", " + PrintedUnitSymbols.of(ResultFigures.number(s.loadOhm(), "ohm")))
          .figures(String.valueOf(s.connectionsPpm().n()))
          .figures(ComparisonWords.scatter(s.connectionsPpm()))
          .cell(ComparisonWords.setUpInterval(comparison, s))
          .figures(ResultFigures.size(s.noisePpm(), "ppm"))
          .cell(ComparisonWords.setUpWords(s))
          .end();
    }
    table.close();
    out.close();
  }

  private void runs() {
    out.line().open("section", "class", "small runs").element("h2", "Runs");
    HtmlTable table =
        HtmlTable.open(
            out,
            "In the order of time",
            HtmlTable.Column.figures("Run"),
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.words("Batch"),
            HtmlTable.Column.words("Began (UTC)"),
            HtmlTable.Column.words("Outcome"),
            HtmlTable.Column.words("Test"),
            HtmlTable.Column.words("Bin"),
            HtmlTable.Column.words("Digest, first 16"));
    comparison.runs().forEach(r -> run(table, r));
    table.close();
    out.close();
  }

  private static void run(HtmlTable table, ComparedRun r) {
    table
        .begin()
        .figures(String.valueOf(r.run().id()))
        .cell(r.unit())
        .cell(r.run().start().people().batch().orElse(""))
        .cell(
            r.run()
                .start()
                .measuredAt()
                .map(at -> at.truncatedTo(ChronoUnit.SECONDS).toString())
                .orElse("not stated"))
        .cell(r.passed() ? "pass" : r.conformity().map(c -> c.text()).orElse("no limit"))
        .cell(r.first() ? "first" : "again: " + r.cause().orElse("no cause recorded"))
        .cell(r.bin().orElse(""))
        .cell(o -> o.element("code", r.run().digest().map(d -> d.substring(0, 16)).orElse("")))
        .end();
  }
}
