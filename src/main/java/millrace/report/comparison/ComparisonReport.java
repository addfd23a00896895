// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.io.Writer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.ResultsByGroup;
import millrace.logbook.Logbook;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.page.BatchRecordSection;
import millrace.report.plot.Chart;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.ResultFigures;

/**
 * Comparison of runs as one page: a single HTML file that needs no network and no script. The yield
 * comes first, then a chart of each limited quantity, then the tables. The same comparison gives
 * the same file. Stateless; one thread at a time per comparison.
 */
public final class ComparisonReport {
  private static final String[] STYLES = {"signatures.css", "comparison.css"};

  private final Markup out;
  private final Comparison comparison;
  private int charts;

  private ComparisonReport(Markup out, Comparison comparison) {
    this.out = out;
    this.comparison = comparison;
  }

  /**
   * Writes the page. The file is complete or does not exist.
   *
   * @param file destination; the folder must exist
   * @param comparison the findings
   * @param by results by group, if asked for
   * @param book logbook of the runs, for the instruments used; only read
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(
      Path file, Comparison comparison, Optional<ResultsByGroup> by, Logbook book) {
    HtmlPageFrame.write(
        file, writer -> new ComparisonReport(Markup.to(writer), comparison).page(by, book));
  }

  /**
   * Writes the comparison.
   *
   * @param target destination; stays open
   * @param comparison the comparison
   * @param book the logbook of the runs
   */
  public static void write(Writer target, Comparison comparison, Logbook book) {
    new ComparisonReport(Markup.to(target), comparison).page(Optional.empty(), book);
  }

  private void page(Optional<ResultsByGroup> by, Logbook book) {
    HtmlPageFrame.open(out, ComparisonWords.head(comparison), comparison.simulated(), STYLES);
    summary();
    ComparisonSections sections = new ComparisonSections(out, comparison);
    sections.gauges();
    sections.failed();
    causes();
    by.ifPresent(groups -> ResultsByGroupTable.write(out, groups));
    overview();
    pictures();
    sections.write();
    BatchRecordSection.write(out, comparison, book);
    HtmlPageFrame.close(out);
  }

  private void summary() {
    out.line().element("h1", "Comparison: " + ComparisonWords.head(comparison));
    out.line().open("section", "class", "verdict");
    out.element("h2", ComparisonHighlights.headline(comparison));
    for (String line : ComparisonHighlights.sentences(comparison, PrintedUnitSymbols::of)) {
      out.element("p", line.strip(), "class", line.startsWith(" ") ? "belongs" : "");
    }
    out.close();
    out.line().open("div", "class", "terms");
    if (comparison.gauges().isEmpty()) {
      ComparisonWords.yieldLines(comparison).forEach(line -> out.element("p", sentence(line)));
    }
    if (comparison.gauges().isEmpty() && !comparison.bins().isEmpty()) {
      out.element("p", "Bins: " + ComparisonWords.bins(comparison.bins()) + ".");
    }
    out.element(
        "p",
        "Intervals cover %s. The first result of a unit counts; a retest needs a recorded cause and"
                .formatted(MeasurandWords.percent(comparison.coverage()))
            + " never replaces it. Outliers are shown and stay in every figure.");
    out.close();
    if (!comparison.notes().isEmpty()) {
      out.line().element("h3", "What was left out").open("ul");
      comparison.notes().forEach(n -> out.element("li", n));
      out.close();
    }
  }

  private static String sentence(String line) {
    return line.substring(0, 1).toUpperCase(Locale.ROOT) + line.substring(1) + ".";
  }

  private void causes() {
    if (comparison.causes().isEmpty()) {
      return;
    }
    out.line().open("section").element("h2", "Likeliest causes of the units that failed");
    chart(CauseChart.of(comparison));
    HtmlTable table =
        HtmlTable.open(
            out,
            "The most frequent first; of causes that cannot be told apart the likeliest stands for"
                + " all",
            HtmlTable.Column.figures("Units"),
            HtmlTable.Column.figures("Up to here"),
            HtmlTable.Column.words("Cause"),
            HtmlTable.Column.words("Runs"));
    int all = comparison.causes().stream().mapToInt(Comparison.CauseCount::units).sum();
    int sofar = 0;
    for (Comparison.CauseCount k : comparison.causes()) {
      sofar += k.units();
      table
          .begin()
          .figures(String.valueOf(k.units()))
          .figures(MeasurandWords.percent((double) sofar / all))
          .cell(k.cause())
          .cell(ComparisonWords.runs(k.runs()))
          .end();
    }
    table.close();
    repairs();
    out.close();
  }

  private void repairs() {
    HtmlTable table =
        HtmlTable.open(
            out,
            "Where a repairer looks, unit by unit",
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.figures("Run"),
            HtmlTable.Column.words("Look at"));
    for (Comparison.CauseCount k : comparison.causes()) {
      for (Comparison.Blamed b : k.boards()) {
        table
            .begin()
            .head(b.test().unit())
            .figures(String.valueOf(b.test().run().id()))
            .cell(PrintedUnitSymbols.of(ComparisonWords.hint(b)))
            .end();
      }
    }
    table.close();
  }

  private void overview() {
    List<BatchDistribution> limited = CapabilityWords.limited(comparison);
    if (limited.isEmpty()) {
      return;
    }
    boolean known = limited.stream().anyMatch(d -> CapabilityWords.capability(d).isPresent());
    out.line().open("section", "class", "quantities").element("h2", "What has a limit");
    List<HtmlTable.Column> columns =
        new ArrayList<>(
            List.of(
                HtmlTable.Column.words("Quantity"),
                HtmlTable.Column.figures("Met"),
                HtmlTable.Column.figures("Mean"),
                HtmlTable.Column.figures("Standard deviation"),
                HtmlTable.Column.words("Limit; guard-banded")));
    if (known) {
      columns.add(HtmlTable.Column.words("Cpk; Ppk, each with its interval"));
    }
    HtmlTable table =
        HtmlTable.open(out, "Over units, against limits", columns.toArray(HtmlTable.Column[]::new));
    limited.forEach(d -> row(table, d, known));
    table.close();
    out.close();
  }

  private static void row(HtmlTable table, BatchDistribution d, boolean known) {
    BatchDistribution.Statistics s = d.statistics().orElseThrow();
    String unit = d.what().quantity().unit();
    String limit = d.limit().map(l -> ResultFigures.limit(l, unit)).orElse("different ones");
    String guarded = MeasurandWords.limit(d.testLimit(), d.what());
    table
        .begin()
        .head(MeasurandWords.printed(d.what()))
        .figures(
            s.within().map(w -> w.count() + " of " + w.of()).orElse(String.valueOf(s.spread().n())))
        .figures(
            PrintedUnitSymbols.of(MeasurandWords.among(s.spread(), s.spread().mean(), d.what())))
        .figures(PrintedUnitSymbols.of(MeasurandWords.scatter(s.spread(), d.what())))
        .cell(PrintedUnitSymbols.of(guarded.isEmpty() ? limit : limit + "; " + guarded));
    if (known) {
      table.cell(capability(s));
    }
    table.end();
  }

  private static String capability(BatchDistribution.Statistics s) {
    return s.capability()
        .map(
            c ->
                MeasurandWords.index(c.cpk())
                    + "; "
                    + MeasurandWords.index(c.ppk())
                    + (c.normality().plausible() ? "" : "; not normal"))
        .orElse("");
  }

  private void pictures() {
    List<BatchDistribution> limited = CapabilityWords.limited(comparison);
    if (limited.isEmpty()) {
      return;
    }
    out.line().open("section", "class", "pictures").element("h2", "Unit by unit");
    List<BatchDistribution> few =
        limited.stream().filter(d -> d.counting().size() < DistributionCharts.MANY).toList();
    out.line().open("div", "class", "pair");
    few.forEach(d -> charts(d).spread().ifPresent(this::chart));
    out.close();
    few.forEach(d -> charts(d).inTime().ifPresent(this::chart));
    limited.stream().filter(d -> !few.contains(d)).forEach(this::many);
    for (BatchDistribution d : limited) {
      d.notes().forEach(n -> out.element("p", MeasurandWords.printed(d.what()) + ": " + n + "."));
    }
    out.close();
  }

  private DistributionCharts charts(BatchDistribution d) {
    return new DistributionCharts(d, comparison.simulated());
  }

  private void many(BatchDistribution d) {
    out.line().open("div", "class", "many");
    charts(d).spread().ifPresent(this::chart);
    beside(d);
    charts(d).inTime().ifPresent(this::chart);
    out.close();
  }

  /** Writes the text beside a distribution. */
  private void beside(BatchDistribution d) {
    out.line().open("div", "class", "facts-beside");
    out.element("p", PrintedUnitSymbols.of(DistributionWords.figures(d)));
    DistributionWords.believed(d).forEach(line -> out.element("p", PrintedUnitSymbols.of(line)));
    out.close();
  }

  private void chart(Chart chart) {
    boolean half = chart.size().widthPx() == Chart.Size.HALF.widthPx();
    out.line().open("figure", "class", half ? "half" : "whole");
    charts++;
    chart.write(out, "plot" + charts);
    out.close();
  }
}
