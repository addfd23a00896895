// SPDX-License-Identifier: Apache-2.0
package millrace.report.unit;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.assessment.history.RangeHistory;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.UnitHistory;
import millrace.assessment.history.UnitRun;
import millrace.evidence.Conformity;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.OverallVerdict;
import millrace.report.words.ResultFigures;
import millrace.report.words.RunDays;

/**
 * History of a unit as one page: a single HTML file that needs no network and no script. The
 * verdict comes first, then a chart of each range, then every run. The same history gives the same
 * file. Stateless.
 */
public final class UnitHistoryPage {
  private static final String PPM = "ppm";

  private final Markup out;
  private final UnitHistory history;

  private UnitHistoryPage(Markup out, UnitHistory history) {
    this.out = out;
    this.history = history;
  }

  /**
   * Writes the page. The file is complete or does not exist.
   *
   * @param file destination; the folder must exist
   * @param history the history
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(Path file, UnitHistory history) {
    HtmlPageFrame.write(file, writer -> new UnitHistoryPage(Markup.to(writer), history).page());
  }

  private void page() {
    HtmlPageFrame.open(
        out, "Unit " + history.unit(), history.simulated(), "signatures.css", "comparison.css");
    verdict();
    overview();
    charts();
    runs();
    remarks();
    methods();
    HtmlPageFrame.close(out);
  }

  private void verdict() {
    out.line().element("h1", "Unit " + history.unit() + " over its runs");
    List<String> said = UnitHistoryWords.verdict(history);
    out.line().open("section", "class", "verdict");
    out.element("h2", PrintedUnitSymbols.of(said.get(0)));
    said.stream().skip(1).forEach(s -> out.element("p", PrintedUnitSymbols.of(s)));
    out.close();
  }

  private void overview() {
    if (history.ranges().isEmpty()) {
      return;
    }
    out.line().open("section").element("h2", "Where each range stands");
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "Current error at the last visit, drift per year, and the day on which the line of the"
                + " drift reaches a limit",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Current error"),
            HtmlTable.Column.words("Limit"),
            HtmlTable.Column.words("Drift"),
            HtmlTable.Column.words("Leaves about"),
            HtmlTable.Column.words("Within, 95 % sure"));
    history.ranges().forEach(r -> row(table, r));
    table.close();
    out.close();
  }

  private void row(HtmlTable table, RangeHistory range) {
    Optional<Forecast> first =
        UnitHistoryWords.first(range).or(() -> range.forecasts().stream().findFirst());
    table
        .begin()
        .head(range.range())
        .cell(
            "%s, run %s"
                .formatted(
                    PrintedUnitSymbols.of(UnitHistoryWords.stated(range.last())),
                    range.last().run().run().id()))
        .cell(
            first
                .map(f -> PrintedUnitSymbols.of(ResultFigures.limit(f.limit(), PPM)))
                .orElse("none"))
        .cell(
            range
                .drift()
                .map(
                    d ->
                        "%s, %s visits"
                            .formatted(
                                PrintedUnitSymbols.of(UnitHistoryWords.drift(d)), d.visits()))
                .orElseGet(() -> range.noDrift().orElse("")))
        .cell(first.flatMap(Forecast::leaves).map(LocalDate::toString).orElse("not told"))
        .cell(
            first
                .map(
                    f ->
                        f.sureUntil()
                            .map(d -> (d.isBefore(f.reach()) ? "until " : "until at least ") + d)
                            .orElse("no longer"))
                .orElse("not told"))
        .end();
  }

  private void charts() {
    if (history.ranges().isEmpty()) {
      return;
    }
    out.line().open("section", "class", "pictures").element("h2", "Range by range");
    int n = 0;
    for (RangeHistory range : history.ranges()) {
      n++;
      out.line().open("figure", "class", "whole");
      RangeHistoryChart.of(history, range).write(out, "plot" + n);
      out.close();
    }
    out.element(
        "p",
        "Limits stand where the reference condition reaches them: less what their other conditions"
            + " add at the last visit. The line goes as far ahead as the visits lie apart.");
    out.close();
  }

  private void runs() {
    out.line().open("section").element("h2", "Every run");
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "In the order of time; * is not in the drift",
            HtmlTable.Column.words("Run"),
            HtmlTable.Column.words("Measured"),
            HtmlTable.Column.words("Outcome"),
            HtmlTable.Column.words("Current error"));
    for (UnitRun run : history.runs()) {
      table
          .begin()
          .head(run.run().id() + " " + run.run().start().title())
          .cell(RunDays.inWords(run.run()))
          .cell(o -> outcome(run))
          .cell(run.used() ? PrintedUnitSymbols.of(errors(run)) : run.leftOut().orElse(""))
          .end();
    }
    table.close();
    out.close();
  }

  private void outcome(UnitRun run) {
    Optional<Conformity> worst =
        OverallVerdict.order().stream().filter(c -> run.limits().contains(c)).findFirst();
    worst.ifPresentOrElse(
        c -> HighlightedWords.conformity(out, c), () -> out.text(UnitHistoryWords.outcome(run)));
  }

  private String errors(UnitRun run) {
    return String.join(
        "; ",
        history.ranges().stream()
            .flatMap(
                r ->
                    r.visits().stream()
                        .filter(v -> v.run().equals(run))
                        .map(
                            v ->
                                "%s: %s%s"
                                    .formatted(
                                        r.range(),
                                        UnitHistoryWords.stated(v),
                                        v.counts() ? "" : " *")))
            .toList());
  }

  private void remarks() {
    List<String> said = UnitHistoryWords.remarks(history);
    if (said.isEmpty()) {
      return;
    }
    out.line().open("section").element("h2", "Repairs, changes, and what is left out").open("ul");
    said.forEach(s -> out.element("li", PrintedUnitSymbols.of(s)));
    out.close().close();
  }

  private void methods() {
    out.line().open("section").element("h2", "How it was computed");
    history.notes().forEach(n -> out.element("p", n));
    out.element(
        "p",
        "Drift: a line by generalized least squares through the visits since the last repair, with"
            + " the uncertainties that they share; the day to look again: the last one on which the"
            + " unit is within its limits with a probability of 95 % (Methods of Millrace 13).");
    out.close();
  }
}
