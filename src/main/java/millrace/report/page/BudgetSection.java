// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.evidence.Component;
import millrace.evidence.Distribution;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.report.plot.Symbols;
import millrace.report.words.AtWords;
import millrace.report.words.Figures;

/** Where each uncertainty comes from, in the form of JCGM 100:2008, annex H.1. */
final class BudgetSection {
  private static final int COLUMNS = 6;
  private static final int MOST_SHOWN = 60;
  private static final int CURRENT_DIGITS = 9;
  private static final int DIGITS = 6;
  private static final double LEAST_SHARE = 1e-2;

  /** What cancels but for the last bit of the arithmetic is no component, and another elsewhere. */
  private static final double ROUNDING = 1e-7;

  private BudgetSection() {}

  static void write(Sheet sheet) {
    List<Result> results =
        sheet.assessment().results().stream().filter(r -> !r.budget().isEmpty()).toList();
    if (results.isEmpty()) {
      return;
    }
    sheet
        .folded("Uncertainty budgets", "budgets", Numbers.counted(results.size(), "budget"))
        .paragraph(
            "One budget per result, in the form of JCGM 100:2008, annex H.1: standard uncertainty u"
                + " of each component, its distribution (rect.: rectangular), sensitivity c in base"
                + " units of result per component, contribution |c| u, and degrees of freedom"
                + " \u03bd. Components of one group, named behind the component, are fully"
                + " correlated; \u2018point\u2019 means that each point has its own error. What"
                + " contributes less than 1 % of u stands in one row, each with its contribution,"
                + " added up as independent. Above each stand the model equation and the estimates"
                + " of its input quantities, corrections applied; errors, of which the rows are,"
                + " are estimated as 0.");
    Table table =
        Table.open(
            sheet.out(),
            "Components of each result, the largest contribution first",
            Table.Column.words("Component (group)"),
            Table.Column.figures("u"),
            Table.Column.words("Distr."),
            Table.Column.figures("c"),
            Table.Column.figures("|c| u"),
            Table.Column.figures("\u03bd"));
    results.forEach(r -> budget(table, r));
    table.close();
    sheet.endFolded();
  }

  private static void budget(Table table, Result r) {
    String unit = r.quantity().unit();
    table.group(head(r), COLUMNS);
    r.model().ifPresent(m -> model(table, m));
    double least = LEAST_SHARE * Figures.uncertainty(r).map(u -> u.standard()).orElse(0.0);
    List<Component> listed =
        r.budget().stream()
            .filter(c -> c.contribution() >= least)
            .sorted((a, b) -> Double.compare(b.contribution(), a.contribution()))
            .toList();
    listed.forEach(c -> row(table, c, unit));
    rest(table, r.budget(), least, unit);
  }

  /** The equation and the estimates x_i, as annex H.1 has them above the table. */
  private static void model(Table table, MeasurementModel model) {
    String estimates =
        model.inputs().stream().map(BudgetSection::input).collect(Collectors.joining("; "));
    table
        .begin()
        .over(
            out -> {
              out.text(Symbols.of(model.equation()) + ".");
              if (!estimates.isEmpty()) {
                out.element("span", " Estimates: " + Symbols.of(estimates), "class", "at");
              }
            },
            COLUMNS)
        .end();
  }

  private static String input(MeasurementModel.Input input) {
    List<Double> all = input.estimates();
    double largest = all.stream().mapToDouble(Math::abs).max().orElse(0);
    Quantities.Scale scale = Figures.scale(largest, input.unit());
    List<Double> shown = all.size() > MOST_SHOWN ? all.subList(0, MOST_SHOWN) : all;
    String figures =
        shown.stream()
            .map(x -> Numbers.significant(x / scale.size(), digits(input.unit())))
            .collect(Collectors.joining(", "));
    String rest =
        all.size() > MOST_SHOWN
            ? " (the first of %s; \u2018millrace export\u2019 gives all)".formatted(all.size())
            : "";
    return (input.symbol() + " = " + figures + " " + scale.symbol()).strip() + rest;
  }

  /** A current is known to parts per million of itself, what else there is less well. */
  private static int digits(String unit) {
    return unit.equals("A") ? CURRENT_DIGITS : DIGITS;
  }

  /** What is too small to matter, in one row, added up as independent. */
  private static void rest(Table table, List<Component> all, double least, String unit) {
    double nothing = least * ROUNDING;
    List<Component> small =
        all.stream().filter(c -> c.contribution() < least && c.contribution() > nothing).toList();
    if (small.isEmpty()) {
      return;
    }
    double squares = small.stream().mapToDouble(c -> Math.pow(c.contribution(), 2)).sum();
    String each =
        small.stream()
            .map(c -> c.component() + " " + Figures.size(c.contribution(), unit))
            .collect(Collectors.joining(", "));
    table
        .begin()
        .head(Symbols.of("below 1 %: " + each), 4)
        .figures(Symbols.of(Figures.size(Math.sqrt(squares), unit)))
        .figures("")
        .end();
  }

  private static String head(Result r) {
    String combined =
        Figures.uncertainty(r)
            .map(
                u ->
                    "u "
                        + Figures.size(u.standard(), r.quantity().unit())
                        + ", \u03bd "
                        + degrees(u.degreesOfFreedom()))
            .orElse("");
    return Stream.of(
            r.range().map(n -> "Range " + n).orElse("Whole unit"),
            r.quantity().inWords(),
            AtWords.of(r.at()),
            combined)
        .filter(s -> !s.isEmpty())
        .map(Symbols::of)
        .collect(Collectors.joining(", "));
  }

  private static String degrees(OptionalDouble degrees) {
    return degrees.isPresent() ? Figures.degrees(degrees) : "\u221e";
  }

  /** The unit of a sensitivity: that of the result per that of the component. */
  private static String per(String result, String component) {
    return component.equals("1") ? result : result + " per " + component;
  }

  private static void row(Table table, Component c, String unit) {
    table
        .begin()
        .head(out -> out.text(c.component()).element("span", " (" + c.group() + ")", "class", "at"))
        .figures(Symbols.of(Figures.size(c.value(), c.unit())))
        .cell(c.distribution() == Distribution.RECTANGULAR ? "rect." : c.distribution().text())
        .folding(Symbols.of(Numbers.significant(c.sensitivity(), 3) + " " + per(unit, c.unit())))
        .figures(Symbols.of(Figures.size(c.contribution(), unit)))
        .figures(degrees(c.degreesOfFreedom()))
        .end();
  }
}
