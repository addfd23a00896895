// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.io.Writer;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.design.DesignForecast;
import millrace.analysis.design.DesignPrediction;
import millrace.assessment.Assessment;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.quantity.NumberText;
import millrace.report.chart.DesignChart;
import millrace.report.chart.PredictedAndMeasured;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.ResultFigures;

/**
 * Prediction from the parts of a datasheet as one page, with measured values of a run beside it
 * (methods.md 10). The page is a single HTML file that needs no network and no script; it has a
 * chart per quantity and a table per range. The same design gives the same file. Stateless.
 */
public final class DesignReport {
  private final Markup out;
  private final Design design;
  private final List<PredictedAndMeasured> all;
  private final Optional<String> stamp;
  private int charts;

  /**
   * The subject of the page.
   *
   * @param name name of the datasheet
   * @param prediction prediction from its parts
   * @param seed seed of the simulated units
   * @param notes remarks for the reader
   * @param run measured values of a unit; empty for none
   */
  public record Design(
      String name,
      DesignPrediction prediction,
      long seed,
      List<String> notes,
      Optional<Assessment> run) {
    /** Copies the list. */
    public Design {
      notes = List.copyOf(notes);
    }

    private boolean simulated() {
      return run.filter(a -> a.run().start().origin() == RunOrigin.SIMULATED).isPresent();
    }
  }

  private DesignReport(Markup out, Design design) {
    this.out = out;
    this.design = design;
    this.all =
        PredictedAndMeasured.of(design.prediction(), design.run()).stream()
            .filter(p -> p.quantity() != ResultQuantity.CURRENT)
            .toList();
    this.stamp = design.simulated() ? Optional.of(ReportContext.SIMULATED) : Optional.empty();
  }

  /**
   * Writes the page. The file is complete or does not exist.
   *
   * @param file destination; the folder must exist
   * @param design the subject of the page
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(Path file, Design design) {
    HtmlPageFrame.write(file, writer -> write(writer, design));
  }

  static void write(Writer target, Design design) {
    Markup out = Markup.to(target);
    new DesignReport(out, design).page();
  }

  private void page() {
    String title = "What the parts of " + design.name() + " promise";
    HtmlPageFrame.open(out, stamp.map(s -> s + ": ").orElse("") + title, design.simulated());
    out.line().element("h1", title).element("p", inWords());
    pictures();
    table();
    out.line().element("h2", "Notes").open("ul");
    design.prediction().circuit().assumptions().inWords().forEach(n -> out.element("li", n));
    design.notes().forEach(n -> out.element("li", n));
    out.close();
    HtmlPageFrame.close(out);
  }

  private String inWords() {
    DesignPrediction p = design.prediction();
    String run =
        design
            .run()
            .map(
                a ->
                    " Beside it stands what was measured in run %s of unit %s."
                        .formatted(a.run().id(), a.run().start().unit()))
            .orElse(" Nothing was measured.");
    return "%s units were drawn (seed %s), every part anywhere in its tolerance; the predicted interval holds %s of them. In the worst case all parts stand where they do harm. All at %s."
            .formatted(
                p.trials(),
                design.seed(),
                PredictedAndMeasured.percent(p.coverage()),
                PrintedUnitSymbols.of(NumberText.fixed(p.circuit().referenceDegC(), 1) + " degC"))
        + run;
  }

  private void pictures() {
    Set<ResultQuantity> quantities = new LinkedHashSet<>();
    all.forEach(p -> quantities.add(p.quantity()));
    out.line().element("h2", "Ranges side by side");
    for (ResultQuantity quantity : quantities) {
      List<PredictedAndMeasured> of = all.stream().filter(p -> p.quantity() == quantity).toList();
      out.line().open("figure", "class", "page");
      charts++;
      DesignChart.of(of, design.prediction().coverage(), stamp).write(out, "plot" + charts);
      out.close();
    }
  }

  private void table() {
    out.line().open("section", "class", "designs").element("h2", "Range by range");
    HtmlTable table =
        HtmlTable.open(
            out,
            "What each quantity may come to, and which parts use its budget",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity, and what uses its budget"),
            HtmlTable.Column.figures("Nominal"),
            HtmlTable.Column.figures("Predicted"),
            HtmlTable.Column.figures("Root sum of squares"),
            HtmlTable.Column.figures("Worst case"),
            HtmlTable.Column.figures("Measured"),
            HtmlTable.Column.words("Against predicted"));
    all.forEach(p -> row(table, p));
    design.prediction().ranges().stream()
        .filter(f -> f.spread().isEmpty())
        .forEach(f -> missing(table, f));
    table.close();
    out.close();
  }

  private static void row(HtmlTable table, PredictedAndMeasured p) {
    DesignForecast.Spread s = p.spread();
    String unit = p.quantity().unit();
    table
        .begin()
        .head(p.range())
        .cell(out -> DesignSection.small(out, p.quantity().inWords(), p.shares()))
        .figures(PrintedUnitSymbols.of(ResultFigures.number(s.nominal(), unit)))
        .folding(p.stretch(s.lower(), s.upper()))
        .figures("\u00b1 " + PrintedUnitSymbols.of(ResultFigures.number(s.rootSumSquare(), unit)))
        .folding(p.stretch(s.lowest(), s.highest()))
        .figures(
            p.measured()
                .map(ResultFigures::inWords)
                .map(PrintedUnitSymbols::of)
                .orElse("not measured"))
        .cell(out -> DesignSection.picture(out, p))
        .end();
  }

  private static void missing(HtmlTable table, DesignForecast f) {
    table
        .begin()
        .head(f.range())
        .cell(f.quantity().inWords() + ": " + f.missing().orElse("not predicted"))
        .end();
  }
}
