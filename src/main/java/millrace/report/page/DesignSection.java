// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignForecast;
import millrace.analysis.design.DesignPrediction;
import millrace.assessment.design.DesignFromDatasheet;
import millrace.datasheet.Datasheet;
import millrace.evidence.ResultQuantity;
import millrace.report.chart.DesignChart;
import millrace.report.chart.PredictedAndMeasured;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.LimitBar;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.ResultFigures;
import millrace.time.Seeds;

/**
 * Measured values against the prediction from the parts of the datasheet (methods.md 10). The
 * section is left out if no range lists its parts.
 */
final class DesignSection {
  private static final int TRIALS = 4000;
  private static final long SEED = 1;
  private final ReportContext sheet;
  private final DesignPrediction prediction;
  private final List<PredictedAndMeasured> compared;

  private DesignSection(ReportContext sheet, DesignPrediction prediction) {
    this.sheet = sheet;
    this.prediction = prediction;
    this.compared =
        PredictedAndMeasured.of(prediction, Optional.of(sheet.assessment())).stream()
            .filter(p -> p.measured().isPresent())
            .toList();
  }

  static void write(ReportContext sheet) {
    Optional<Datasheet> datasheet = sheet.assessment().basis().datasheet();
    Optional<DesignCircuit> circuit = datasheet.flatMap(DesignFromDatasheet::of);
    if (circuit.isEmpty()) {
      return;
    }
    DesignPrediction prediction =
        DesignPrediction.of(circuit.get(), datasheet.get().coverage(), TRIALS, new Seeds(SEED));
    DesignSection section = new DesignSection(sheet, prediction);
    if (!section.compared.isEmpty()) {
      section.write(DesignFromDatasheet.notes(datasheet.get()));
    }
  }

  private void write(List<String> notes) {
    sheet
        .section("Measured against what the parts predict", "design")
        .paragraph(
            "Predicted from the parts in the datasheet: the shaded stretch holds "
                + PredictedAndMeasured.percent(prediction.coverage())
                + " of "
                + prediction.trials()
                + " drawn units, every part anywhere in its tolerance; in the worst case all parts"
                + " stand where they do harm.");
    chart(ResultQuantity.CURRENT_ERROR);
    chart(ResultQuantity.TEMPCO);
    table();
    if (compared.stream().anyMatch(c -> c.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE)) {
      sheet.paragraph(
          "The compliance voltage is predicted as the headroom: supply less set voltage, series"
              + " drops and what the pass device itself is assumed to need; 'millrace budget' says"
              + " how much.");
    }
    sheet.list(notes).end();
  }

  /** Writes the chart of one quantity over all ranges: the prediction beside the measurement. */
  private void chart(ResultQuantity quantity) {
    List<PredictedAndMeasured> of =
        compared.stream().filter(p -> p.quantity() == quantity).toList();
    if (!of.isEmpty()) {
      sheet.chart(DesignChart.of(of, prediction.coverage(), sheet.stamp()));
    }
  }

  private void table() {
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Measured against predicted, range by range",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity, and what uses its budget"),
            HtmlTable.Column.figures("Measured"),
            HtmlTable.Column.figures("Predicted"),
            HtmlTable.Column.figures("Worst case"),
            HtmlTable.Column.words(
                sheet.simulated() ? "Against predicted (SIMULATED)" : "Against predicted"));
    compared.forEach(c -> row(table, c));
    table.close();
  }

  private static void row(HtmlTable table, PredictedAndMeasured p) {
    DesignForecast.Spread s = p.spread();
    table
        .begin()
        .head(p.range())
        .cell(out -> small(out, p.quantity().inWords(), p.shares()))
        .figures(p.measured().map(ResultFigures::inWords).map(PrintedUnitSymbols::of).orElse(""))
        .folding(p.stretch(s.lower(), s.upper()))
        .folding(p.stretch(s.lowest(), s.highest()))
        .cell(out -> picture(out, p))
        .end();
  }

  static void small(Markup out, String text, String below) {
    out.text(text).element("div", below, "class", "at");
  }

  /** Draws the measured value in the predicted interval; draws nothing if it was not measured. */
  static void picture(Markup out, PredictedAndMeasured p) {
    double low = p.spread().lower();
    double high = p.spread().upper();
    if (p.measured().isEmpty()) {
      return;
    }
    if (low < high) {
      new LimitBar(
              p.value(),
              p.value() - p.expanded(),
              p.value() + p.expanded(),
              OptionalDouble.of(low),
              OptionalDouble.of(high))
          .write(out, "measured against predicted: " + p.verdict());
    }
    out.element("div", p.verdict(), "class", "at");
  }
}
