// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.batch.GaugeIntervals;
import millrace.analysis.batch.Spread;
import millrace.assessment.comparison.Compared;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Distribution;
import millrace.quantity.Numbers;
import millrace.report.markup.Markup;
import millrace.report.page.Table;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;
import millrace.report.words.Margin;
import millrace.report.words.ResultWords;

/** The tables of a comparison below its pictures. */
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

  /** Every unit that failed, farthest beyond a limit first. */
  void failed() {
    List<UnitWords.Failed> failed = new UnitWords(comparison).failed();
    if (failed.isEmpty()) {
      return;
    }
    open("Units that failed");
    Table table =
        Table.open(
            out,
            "By the limit that each misses by most, those farthest beyond first",
            Table.Column.words("Unit"),
            Table.Column.figures("Run"),
            Table.Column.words("Fails by"),
            Table.Column.words("Value, limit"),
            Table.Column.figures("More limits"));
    for (UnitWords.Failed f : failed) {
      table
          .begin()
          .head(f.run().unit())
          .figures(String.valueOf(f.run().run().id()))
          .cell(ResultWords.name(f.by()))
          .cell(Symbols.of(ResultWords.figures(f.by()) + ", " + Margin.inWords(f.by())))
          .figures(f.more() == 0 ? "" : String.valueOf(f.more()))
          .end();
    }
    table.close();
    out.close();
  }

  private void signals() {
    List<SignalWords.Said> said = SignalWords.of(comparison);
    if (said.isEmpty()) {
      return;
    }
    out.line()
        .open("section", "class", "small signals")
        .element("h2", "Signals of the control charts");
    out.element("p", SignalWords.CHANCE);
    Table table =
        Table.open(
            out,
            "By quantity; units with their runs",
            Table.Column.words("Quantity"),
            Table.Column.words("What is seen"),
            Table.Column.words("In"));
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
                .cell(Symbols.of(key.get(1)))
                .cell(Symbols.of(String.join("; ", where)))
                .end());
    table.close();
    out.close();
  }

  /** What has no limit, for whoever asks. */
  private void unlimited() {
    List<Distribution> others =
        comparison.distributions().stream()
            .filter(d -> !d.judged() && d.statistics().isPresent())
            .toList();
    if (others.isEmpty()) {
      return;
    }
    open("What has no limit");
    Table table =
        Table.open(
            out,
            "Mean and scatter over units",
            Table.Column.words("Quantity"),
            Table.Column.figures("n"),
            Table.Column.figures("Mean"),
            Table.Column.figures("Standard deviation"),
            Table.Column.figures("Least"),
            Table.Column.figures("Largest"));
    for (Distribution d : others) {
      Spread s = d.statistics().orElseThrow().spread();
      table
          .begin()
          .head(MeasurandWords.printed(d.what()))
          .figures(String.valueOf(s.n()))
          .figures(Symbols.of(MeasurandWords.among(s, s.mean(), d.what())))
          .figures(Symbols.of(MeasurandWords.scatter(s, d.what())))
          .figures(Symbols.of(MeasurandWords.among(s, s.least(), d.what())))
          .figures(Symbols.of(MeasurandWords.among(s, s.largest(), d.what())))
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
    Table table =
        Table.open(
            out,
            "Later less earlier; errors that both runs share cancel",
            Table.Column.words("Unit"),
            Table.Column.words("Runs"),
            Table.Column.words("Quantity"),
            Table.Column.figures("Change"),
            Table.Column.words(""),
            Table.Column.words("Cancelled"));
    for (Comparison.Drift d : comparison.drifts()) {
      table
          .begin()
          .head(d.later().unit())
          .cell(d.earlier().run().id() + " to " + d.later().run().id())
          .cell(MeasurandWords.printed(d.what()))
          .figures(Symbols.of(ComparisonWords.change(d)))
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
    Table table =
        Table.open(
            out,
            "Difference of means (Welch), the least likely by chance first",
            Table.Column.words("Group"),
            Table.Column.words("Quantity"),
            Table.Column.figures("Difference"),
            Table.Column.figures("p"),
            Table.Column.words(""));
    for (Comparison.Contrast k : StandsOut.likeliestFirst(comparison)) {
      table
          .begin()
          .head(DriftWords.named(k.group()))
          .cell(MeasurandWords.printed(k.what()))
          .figures(Symbols.of(ComparisonWords.difference(k)))
          .figures(Numbers.significant(k.comparison().probability(), 2))
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
    Table table =
        Table.open(
            out,
            "From the first unit to the last (Theil and Sen; Mann and Kendall)",
            Table.Column.words("Of"),
            Table.Column.words("Quantity"),
            Table.Column.figures("Units"),
            Table.Column.figures("First to last"),
            Table.Column.figures("p"),
            Table.Column.words(""));
    for (Comparison.Drifting t : comparison.trends()) {
      table
          .begin()
          .head(t.group().map(DriftWords::named).orElse("all"))
          .cell(MeasurandWords.printed(t.what()))
          .figures(String.valueOf(t.trend().n()))
          .figures(Symbols.of(DriftWords.signed(t)))
          .figures(Numbers.significant(t.trend().probability(), 2))
          .cell(comparison.drifts(t) ? "drifts" : "")
          .end();
    }
    table.close();
    out.close();
  }

  /**
   * A study comes before all else: whether the bench is good enough, then how well that is known.
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
    Table table =
        Table.open(
            out,
            "Units crossed with " + comparison.gauges().get(0).across().several(),
            Table.Column.words("Quantity"),
            Table.Column.words("Bench"),
            Table.Column.figures("Of the tolerance"),
            Table.Column.figures("Categories"),
            Table.Column.figures("Repeatability"),
            Table.Column.figures("Reproducibility"),
            Table.Column.figures("Units"));
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
              Symbols.of(ComparisonWords.root(v.repeatability(), g, GaugeIntervals::repeatability)))
          .figures(Symbols.of(between))
          .figures(Symbols.of(ComparisonWords.root(v.unit(), g, GaugeIntervals::units)))
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
    Table table =
        Table.open(
            out,
            "Scatter from connection to connection",
            Table.Column.words("Run"),
            Table.Column.words("Range, load"),
            Table.Column.figures("Connections"),
            Table.Column.figures("u of one"),
            Table.Column.words("Interval"),
            Table.Column.figures("Of it noise"),
            Table.Column.words("For the bench file"));
    for (Comparison.SetUpStudy s : comparison.setUps()) {
      table
          .begin()
          .head(String.valueOf(s.run()))
          .cell(s.range() + ", " + Symbols.of(Figures.number(s.loadOhm(), "ohm")))
          .figures(String.valueOf(s.connectionsPpm().n()))
          .figures(ComparisonWords.scatter(s.connectionsPpm()))
          .cell(ComparisonWords.setUpInterval(comparison, s))
          .figures(Figures.size(s.noisePpm(), "ppm"))
          .cell(ComparisonWords.setUpWords(s))
          .end();
    }
    table.close();
    out.close();
  }

  private void runs() {
    out.line().open("section", "class", "small runs").element("h2", "Runs");
    Table table =
        Table.open(
            out,
            "In the order of time",
            Table.Column.figures("Run"),
            Table.Column.words("Unit"),
            Table.Column.words("Batch"),
            Table.Column.words("Began (UTC)"),
            Table.Column.words("Outcome"),
            Table.Column.words("Test"),
            Table.Column.words("Bin"),
            Table.Column.words("Digest, first 16"));
    comparison.runs().forEach(r -> run(table, r));
    table.close();
    out.close();
  }

  private static void run(Table table, Compared r) {
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
