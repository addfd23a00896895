// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import millrace.analysis.design.DesignForecast;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.DesignPrediction;
import millrace.analysis.design.DeviationContribution;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/** Prediction of a design as a table for a terminal. */
public final class DesignBudgetTable {
  private static final String ROW = "  %-24s %14s %14s %14s %12s %14s %14s";
  private static final double LEAST_SHARE = 0.005;

  private final List<String> lines = new ArrayList<>();
  private final DesignPrediction prediction;

  private DesignBudgetTable(DesignPrediction prediction) {
    this.prediction = prediction;
  }

  /**
   * The table, with the verdict first.
   *
   * @param name name of the datasheet
   * @param prediction prediction from its parts
   * @param seed seed of the simulated units
   * @param notes further remarks
   * @return its lines
   */
  public static List<String> lines(
      String name, DesignPrediction prediction, long seed, List<String> notes) {
    DesignBudgetTable table = new DesignBudgetTable(prediction);
    table.head(name, seed);
    prediction.circuit().ranges().forEach(table::range);
    table.ratios();
    table.notes(notes);
    return table.lines;
  }

  private void head(String name, long seed) {
    lines.add(name + ": what its parts promise, before anything is measured");
    lines.add(
        "at %s; drawn: %s units, seed %s, interval holds %s %% of them"
            .formatted(
                QuantityText.print(prediction.circuit().referenceDegC(), Dimension.TEMPERATURE),
                prediction.trials(),
                seed,
                NumberText.significant(100 * prediction.coverage(), 4)));
  }

  private void range(RangeCircuitModel range) {
    RangeDesign design = range.design();
    lines.add("");
    lines.add(
        "range %s: %s held across %s (%s)"
            .formatted(
                design.name(),
                QuantityText.print(design.setVoltageV(), Dimension.VOLTAGE),
                QuantityText.print(
                    design.string().stream().mapToDouble(DesignPart.Resistor::valueOhm).sum(),
                    Dimension.RESISTANCE),
                String.join(
                    ", ", design.string().stream().map(DesignPart.Resistor::name).toList())));
    design
        .firstStage()
        .ifPresent(
            s ->
                lines.add(
                    "  set by %s across %s, whose current %s drops"
                        .formatted(
                            QuantityText.print(s.referenceV(), Dimension.VOLTAGE),
                            s.resistor().name(),
                            String.join(
                                " and ",
                                s.top().stream().map(DesignPart.Resistor::name).toList()))));
    columns();
    List<DesignForecast> forecasts =
        prediction.ranges().stream().filter(f -> f.range().equals(design.name())).toList();
    forecasts.forEach(f -> row(f.quantity().inWords(), f));
    forecasts.forEach(this::shares);
  }

  private void columns() {
    lines.add(
        ROW.formatted("", "nominal", "lowest", "highest", "+/- RSS", "drawn from", "to")
            .stripTrailing());
  }

  private void row(String name, DesignForecast forecast) {
    forecast
        .spread()
        .ifPresentOrElse(
            s ->
                lines.add(
                    ROW.formatted(
                        name,
                        value(forecast, s.nominal()),
                        value(forecast, s.lowest()),
                        value(forecast, s.highest()),
                        width(forecast, s.rootSumSquare()),
                        value(forecast, s.lower()),
                        value(forecast, s.upper()))),
            () -> lines.add("  %-24s %s".formatted(name, forecast.missing().orElse(""))));
  }

  private static String value(DesignForecast forecast, double value) {
    return switch (forecast.quantity()) {
      case CURRENT -> QuantityText.print(value, Dimension.CURRENT, 7);
      case OUTPUT_RESISTANCE -> QuantityText.print(value, Dimension.RESISTANCE, 3);
      case TEMPCO_QUADRATIC_B -> NumberText.fixed(value, 3) + " " + forecast.quantity().unit();
      case COMPLIANCE_VOLTAGE -> QuantityText.print(value, Dimension.VOLTAGE, 4);
      default -> NumberText.fixed(value, 2) + " " + forecast.quantity().unit();
    };
  }

  private static String width(DesignForecast forecast, double value) {
    return forecast.quantity() == ResultQuantity.CURRENT
        ? QuantityText.print(value, Dimension.CURRENT, 3)
        : value(forecast, value);
  }

  private void shares(DesignForecast forecast) {
    if (forecast.quantity() == ResultQuantity.CURRENT || forecast.spread().isEmpty()) {
      return;
    }
    String shares =
        forecast.spread().get().shares().stream()
            .filter(s -> s.share() >= LEAST_SHARE)
            .map(DesignBudgetTable::share)
            .collect(Collectors.joining(", "));
    if (!shares.isEmpty()) {
      lines.add("  " + forecast.quantity().inWords() + " used by: " + shares);
    }
  }

  private static String share(DeviationContribution share) {
    return "%s %s %s %%"
        .formatted(share.part(), share.kind().text(), NumberText.fixed(100 * share.share(), 0));
  }

  private void ratios() {
    List<DesignForecast> ratios = prediction.ratios();
    if (ratios.isEmpty()) {
      return;
    }
    lines.add("");
    lines.add("ratios of neighbouring ranges (what both share cancels)");
    columns();
    ratios.forEach(f -> row(f.range() + "/" + f.otherRange().orElse("") + " " + shortName(f), f));
  }

  private static String shortName(DesignForecast forecast) {
    return forecast.quantity() == ResultQuantity.TRACKING ? "tracking" : "error";
  }

  private void notes(List<String> notes) {
    lines.add("");
    prediction.circuit().assumptions().inWords().forEach(n -> lines.add("note: " + n));
    notes.forEach(n -> lines.add("note: " + n));
  }
}
