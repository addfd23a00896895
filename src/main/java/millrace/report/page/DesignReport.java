// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.io.Writer;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.design.Forecast;
import millrace.analysis.design.Prediction;
import millrace.assessment.Assessment;
import millrace.evidence.Origin;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Numbers;
import millrace.report.chart.DesignChart;
import millrace.report.chart.Predicted;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;

/**
 * What the parts of a datasheet promise, as one page: a single HTML file that needs no network and
 * no script, with a picture per quantity and a table per range; what a run measured stands beside
 * (methods.md 10). The same design gives the same file. Stateless.
 */
public final class DesignReport {
  private final Markup out;
  private final Design design;
  private final List<Predicted> all;
  private final Optional<String> stamp;
  private int charts;

  /**
   * What the page is about.
   *
   * @param name of the datasheet
   * @param prediction what its parts promise
   * @param seed what the units were drawn with
   * @param notes what a reader must know
   * @param run what was measured of a unit; empty for none
   */
  public record Design(
      String name, Prediction prediction, long seed, List<String> notes, Optional<Assessment> run) {
    /** Copies the list. */
    public Design {
      notes = List.copyOf(notes);
    }

    private boolean simulated() {
      return run.filter(a -> a.run().start().origin() == Origin.SIMULATED).isPresent();
    }
  }

  private DesignReport(Markup out, Design design) {
    this.out = out;
    this.design = design;
    this.all =
        Predicted.of(design.prediction(), design.run()).stream()
            .filter(p -> p.quantity() != ResultQuantity.CURRENT)
            .toList();
    this.stamp = design.simulated() ? Optional.of(Sheet.SIMULATED) : Optional.empty();
  }

  /**
   * Writes the page. The file is either whole or not there.
   *
   * @param file where to; the folder must exist
   * @param design what it is about
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(Path file, Design design) {
    Page.write(file, writer -> write(writer, design));
  }

  static void write(Writer target, Design design) {
    Markup out = Markup.to(target);
    new DesignReport(out, design).page();
  }

  private void page() {
    String title = "What the parts of " + design.name() + " promise";
    Page.open(out, stamp.map(s -> s + ": ").orElse("") + title, design.simulated());
    out.line().element("h1", title).element("p", inWords());
    pictures();
    table();
    out.line().element("h2", "Notes").open("ul");
    design.prediction().circuit().assumptions().inWords().forEach(n -> out.element("li", n));
    design.notes().forEach(n -> out.element("li", n));
    out.close();
    Page.close(out);
  }

  private String inWords() {
    Prediction p = design.prediction();
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
                Predicted.percent(p.coverage()),
                Symbols.of(Numbers.fixed(p.circuit().referenceDegC(), 1) + " degC"))
        + run;
  }

  private void pictures() {
    Set<ResultQuantity> quantities = new LinkedHashSet<>();
    all.forEach(p -> quantities.add(p.quantity()));
    out.line().element("h2", "Ranges side by side");
    for (ResultQuantity quantity : quantities) {
      List<Predicted> of = all.stream().filter(p -> p.quantity() == quantity).toList();
      out.line().open("figure", "class", "page");
      charts++;
      DesignChart.of(of, design.prediction().coverage(), stamp).write(out, "plot" + charts);
      out.close();
    }
  }

  private void table() {
    out.line().open("section", "class", "designs").element("h2", "Range by range");
    Table table =
        Table.open(
            out,
            "What each quantity may come to, and which parts use its budget",
            Table.Column.words("Range"),
            Table.Column.words("Quantity, and what uses its budget"),
            Table.Column.figures("Nominal"),
            Table.Column.figures("Predicted"),
            Table.Column.figures("Root sum of squares"),
            Table.Column.figures("Worst case"),
            Table.Column.figures("Measured"),
            Table.Column.words("Against predicted"));
    all.forEach(p -> row(table, p));
    design.prediction().ranges().stream()
        .filter(f -> f.spread().isEmpty())
        .forEach(f -> missing(table, f));
    table.close();
    out.close();
  }

  private static void row(Table table, Predicted p) {
    Forecast.Spread s = p.spread();
    String unit = p.quantity().unit();
    table
        .begin()
        .head(p.range())
        .cell(out -> DesignSection.small(out, p.quantity().inWords(), p.shares()))
        .figures(Symbols.of(Figures.number(s.nominal(), unit)))
        .folding(p.stretch(s.lower(), s.upper()))
        .figures("\u00b1 " + Symbols.of(Figures.number(s.rootSumSquare(), unit)))
        .folding(p.stretch(s.lowest(), s.highest()))
        .figures(p.measured().map(Figures::inWords).map(Symbols::of).orElse("not measured"))
        .cell(out -> DesignSection.picture(out, p))
        .end();
  }

  private static void missing(Table table, Forecast f) {
    table
        .begin()
        .head(f.range())
        .cell(f.quantity().inWords() + ": " + f.missing().orElse("not predicted"))
        .end();
  }
}
