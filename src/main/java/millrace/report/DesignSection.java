package millrace.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.analysis.design.Circuit;
import millrace.analysis.design.Forecast;
import millrace.analysis.design.Prediction;
import millrace.analysis.design.Share;
import millrace.assessment.DesignOf;
import millrace.datasheet.Datasheet;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Numbers;
import millrace.report.markup.Markup;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.LimitBar;
import millrace.report.plot.Look;
import millrace.report.plot.Mark;
import millrace.report.plot.Symbols;
import millrace.time.Seeds;

/**
 * What was measured against what the parts of the datasheet predict (measurement.md 10); left out
 * where no range says what it is made from.
 */
final class DesignSection {
  private static final int TRIALS = 4000;
  private static final long SEED = 1;
  private static final int SHARES = 2;
  private static final double ASIDE_PX = 7;

  private final Sheet sheet;
  private final Prediction prediction;
  private final List<Compared> compared;

  /** A result with what was predicted of it. */
  private record Compared(Result result, Forecast.Spread spread) {
    double value() {
      return result.outcome() instanceof Outcome.Value v ? v.value() : 0;
    }

    double expanded() {
      return Figures.uncertainty(result).map(Outcome.Uncertainty::expanded).orElse(0.0);
    }

    boolean inside() {
      return value() + expanded() >= spread.lower() && value() - expanded() <= spread.upper();
    }

    boolean possible() {
      return value() + expanded() >= spread.lowest() && value() - expanded() <= spread.highest();
    }
  }

  private DesignSection(Sheet sheet, Prediction prediction) {
    this.sheet = sheet;
    this.prediction = prediction;
    this.compared =
        prediction.ranges().stream()
            .filter(f -> f.spread().isPresent())
            .flatMap(f -> measured(f).map(r -> new Compared(r, f.spread().orElseThrow())).stream())
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

  /** The result that a forecast is about: a value; of several the one nearest to T_ref. */
  private Optional<Result> measured(Forecast forecast) {
    return sheet.assessment().results().stream()
        .filter(r -> r.quantity() == forecast.quantity())
        .filter(r -> forecast.quantity() != ResultQuantity.CURRENT)
        .filter(r -> r.range().equals(Optional.of(forecast.range())))
        .filter(r -> r.outcome() instanceof Outcome.Value)
        .min((a, b) -> Double.compare(fromReference(a), fromReference(b)));
  }

  private double fromReference(Result r) {
    double reference = sheet.assessment().basis().referenceDegC();
    OptionalDouble t = r.at().number(millrace.evidence.AtKey.TEMPERATURE_DEGC);
    return Math.abs(t.orElse(reference) - reference);
  }

  private void write(List<String> notes) {
    sheet
        .section("Measured against what the parts predict", "design")
        .paragraph(
            "Predicted from the parts in the datasheet: the shaded stretch holds "
                + percent(prediction.coverage())
                + " of "
                + prediction.trials()
                + " drawn units, every part anywhere in its tolerance; in the worst case all parts"
                + " stand where they do harm.");
    chart(ResultQuantity.CURRENT_ERROR);
    chart(ResultQuantity.TEMPCO);
    table();
    if (compared.stream().anyMatch(c -> quantity(c) == ResultQuantity.COMPLIANCE_VOLTAGE)) {
      sheet.paragraph(
          "The compliance voltage is predicted as the headroom; what the pass device itself drops"
              + " lowers it where that drop is not among the parts.");
    }
    sheet.list(notes).end();
  }

  private static ResultQuantity quantity(Compared c) {
    return c.result().quantity();
  }

  private static String percent(double share) {
    return Numbers.fixed(100 * share, share < 0.1 ? 1 : 0) + " %";
  }

  /** One quantity of all ranges: the prediction beside the measurement. */
  private void chart(ResultQuantity quantity) {
    List<Compared> of = compared.stream().filter(c -> c.result().quantity() == quantity).toList();
    if (of.isEmpty()) {
      return;
    }
    List<Mark.Spot> predicted = new ArrayList<>();
    List<Mark.Spot> found = new ArrayList<>();
    for (int i = 0; i < of.size(); i++) {
      Forecast.Spread s = of.get(i).spread();
      double middle = (s.upper() + s.lower()) / 2;
      predicted.add(Mark.Spot.of(i, middle, (s.upper() - s.lower()) / 2));
      found.add(Mark.Spot.of(i, of.get(i).value(), of.get(i).expanded()));
    }
    List<String> names = of.stream().map(c -> c.result().range().orElse("")).toList();
    List<Mark> marks =
        List.of(
            new Mark.Points(
                "predicted, bars " + percent(prediction.coverage()) + " of units",
                Look.SECOND,
                predicted,
                -ASIDE_PX),
            new Mark.Points("measured, bars U", Look.FIRST, found, ASIDE_PX));
    Chart.Words words =
        new Chart.Words(
            "All ranges: " + quantity.inWords() + ", measured against predicted",
            "For each range the predicted interval beside the measured value.",
            sheet.stamp());
    Axis up = Axis.counted(capital(quantity.inWords()), quantity.unit()).with(0);
    sheet.chart(new Chart(words, Axis.named("Range", names), up, marks, Chart.Size.PAGE));
  }

  private static String capital(String text) {
    return Character.toUpperCase(text.charAt(0)) + text.substring(1);
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

  private static void row(Table table, Compared c) {
    String unit = c.result().quantity().unit();
    Forecast.Spread s = c.spread();
    table
        .begin()
        .head(c.result().range().orElse(""))
        .cell(out -> small(out, quantity(c).inWords(), shares(s)))
        .figures(Symbols.of(Figures.inWords(c.result())))
        .folding(stretch(s.lower(), s.upper(), unit))
        .folding(stretch(s.lowest(), s.highest(), unit))
        .cell(out -> picture(out, c))
        .end();
  }

  private static void small(Markup out, String text, String below) {
    out.text(text).element("div", below, "class", "at");
  }

  private static String stretch(double low, double high, String unit) {
    return Symbols.of(Figures.number(low, unit) + " to " + Figures.number(high, unit));
  }

  private static void picture(Markup out, Compared c) {
    double low = c.spread().lower();
    double high = c.spread().upper();
    if (low < high) {
      new LimitBar(
              c.value(),
              c.value() - c.expanded(),
              c.value() + c.expanded(),
              OptionalDouble.of(low),
              OptionalDouble.of(high))
          .write(out, "measured against predicted: " + verdict(c));
    }
    out.element("div", verdict(c), "class", "at");
  }

  private static String verdict(Compared c) {
    if (c.inside()) {
      return "agrees within U";
    }
    return c.possible() ? "outside, within the worst case" : "outside the worst case";
  }

  private static String shares(Forecast.Spread spread) {
    return spread.shares().stream()
        .limit(SHARES)
        .map(DesignSection::share)
        .collect(Collectors.joining("; "));
  }

  private static String share(Share share) {
    return share.part() + " " + share.kind().text() + ": " + percent(share.share());
  }
}
