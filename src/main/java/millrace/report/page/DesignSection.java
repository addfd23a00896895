// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.design.Circuit;
import millrace.analysis.design.Forecast;
import millrace.analysis.design.Prediction;
import millrace.assessment.design.DesignOf;
import millrace.datasheet.Datasheet;
import millrace.evidence.ResultQuantity;
import millrace.report.chart.DesignChart;
import millrace.report.chart.Predicted;
import millrace.report.markup.Markup;
import millrace.report.plot.LimitBar;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;
import millrace.time.Seeds;

/**
 * What was measured against what the parts of the datasheet predict (methods.md 10); left out where
 * no range says what it is made from.
 */
final class DesignSection {
  private static final int TRIALS = 4000;
  private static final long SEED = 1;
  private final Sheet sheet;
  private final Prediction prediction;
  private final List<Predicted> compared;

  private DesignSection(Sheet sheet, Prediction prediction) {
    this.sheet = sheet;
    this.prediction = prediction;
    this.compared =
        Predicted.of(prediction, Optional.of(sheet.assessment())).stream()
            .filter(p -> p.measured().isPresent())
            .toList();
  }

  static void write(Sheet sheet) {
    Optional<Datasheet> datasheet = sheet.assessment().basis().datasheet();
    Optional<Circuit> circuit = datasheet.flatMap(DesignOf::of);
    if (circuit.isEmpty()) {
      return;
    }
    Prediction prediction =
        Prediction.of(circuit.get(), datasheet.get().coverage(), TRIALS, new Seeds(SEED));
    DesignSection section = new DesignSection(sheet, prediction);
    if (!section.compared.isEmpty()) {
      section.write(DesignOf.notes(datasheet.get()));
    }
  }

  private void write(List<String> notes) {
    sheet
        .section("Measured against what the parts predict", "design")
        .paragraph(
            "Predicted from the parts in the datasheet: the shaded stretch holds "
                + Predicted.percent(prediction.coverage())
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

  /** One quantity of all ranges: the prediction beside the measurement. */
  private void chart(ResultQuantity quantity) {
    List<Predicted> of = compared.stream().filter(p -> p.quantity() == quantity).toList();
    if (!of.isEmpty()) {
      sheet.chart(DesignChart.of(of, prediction.coverage(), sheet.stamp()));
    }
  }

  private void table() {
    Table table =
        Table.open(
            sheet.out(),
            "Measured against predicted, range by range",
            Table.Column.words("Range"),
            Table.Column.words("Quantity, and what uses its budget"),
            Table.Column.figures("Measured"),
            Table.Column.figures("Predicted"),
            Table.Column.figures("Worst case"),
            Table.Column.words(
                sheet.simulated() ? "Against predicted (SIMULATED)" : "Against predicted"));
    compared.forEach(c -> row(table, c));
    table.close();
  }

  private static void row(Table table, Predicted p) {
    Forecast.Spread s = p.spread();
    table
        .begin()
        .head(p.range())
        .cell(out -> small(out, p.quantity().inWords(), p.shares()))
        .figures(p.measured().map(Figures::inWords).map(Symbols::of).orElse(""))
        .folding(p.stretch(s.lower(), s.upper()))
        .folding(p.stretch(s.lowest(), s.highest()))
        .cell(out -> picture(out, p))
        .end();
  }

  static void small(Markup out, String text, String below) {
    out.text(text).element("div", below, "class", "at");
  }

  /** Where the measured value lies in the predicted stretch; nothing where none was measured. */
  static void picture(Markup out, Predicted p) {
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
