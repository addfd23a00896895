package millrace.report;

import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.evidence.Component;
import millrace.evidence.Result;
import millrace.quantity.Numbers;
import millrace.report.plot.Symbols;

/** Where each uncertainty comes from, in the form of JCGM 100:2008, annex H.1. */
final class BudgetSection {
  private static final int COLUMNS = 7;
  private static final double LEAST_SHARE = 1e-3;

  private BudgetSection() {}

  static void write(Sheet sheet) {
    List<Result> results =
        sheet.assessment().results().stream().filter(r -> !r.budget().isEmpty()).toList();
    if (results.isEmpty()) {
      return;
    }
    sheet
        .section("Uncertainty budgets", "budgets")
        .paragraph(
            "One budget per result, in the form of JCGM 100:2008, annex H.1. Components of one"
                + " group are fully correlated; \u2018point\u2019 means that each point has its own"
                + " error.");
    Table table =
        Table.open(
            sheet.out(),
            "Components of each result, the largest contribution first",
            Table.Column.words("Component"),
            Table.Column.words("Group"),
            Table.Column.figures("Standard uncertainty"),
            Table.Column.words("Distribution"),
            Table.Column.figures("Sensitivity"),
            Table.Column.figures("Contribution"),
            Table.Column.figures("Degrees of freedom"));
    results.forEach(r -> budget(table, r));
    table.close();
    sheet.end();
  }

  private static void budget(Table table, Result r) {
    String unit = r.quantity().unit();
    table.group(head(r), COLUMNS);
    double least = LEAST_SHARE * Figures.uncertainty(r).map(u -> u.standard()).orElse(0.0);
    List<Component> listed =
        r.budget().stream()
            .filter(c -> c.contribution() >= least)
            .sorted((a, b) -> Double.compare(b.contribution(), a.contribution()))
            .toList();
    listed.forEach(c -> row(table, c, unit));
    rest(table, r.budget(), least, unit);
    Figures.uncertainty(r)
        .ifPresent(
            u ->
                table
                    .begin()
                    .head("combined standard uncertainty u")
                    .cell("")
                    .figures("")
                    .cell("")
                    .figures("")
                    .figures(Symbols.of(Figures.size(u.standard(), unit)))
                    .figures(Figures.degrees(u.degreesOfFreedom()))
                    .end());
  }

  /** What is too small to matter, in one row, added up as independent. */
  private static void rest(Table table, List<Component> all, double least, String unit) {
    List<Component> small = all.stream().filter(c -> c.contribution() < least).toList();
    if (small.isEmpty()) {
      return;
    }
    double squares = small.stream().mapToDouble(c -> Math.pow(c.contribution(), 2)).sum();
    String names = small.stream().map(Component::component).collect(Collectors.joining(", "));
    table
        .begin()
        .head("below 0.1 % of u each: " + names)
        .cell("")
        .figures("")
        .cell("")
        .figures("")
        .figures(Symbols.of(Figures.size(Math.sqrt(squares), unit)))
        .figures("")
        .end();
  }

  private static String head(Result r) {
    return Stream.of(
            r.range().map(n -> "Range " + n).orElse("Whole unit"),
            r.quantity().inWords(),
            Symbols.of(AtWords.of(r.at())),
            Symbols.of(Figures.inWords(r)))
        .filter(s -> !s.isEmpty())
        .collect(Collectors.joining(", "));
  }

  /** In units of the result per unit of the component. */
  private static String sensitivity(Component c, String unit) {
    String number = Numbers.significant(c.sensitivity(), 3);
    if (c.unit().equals(unit)) {
      return Symbols.of(number);
    }
    String over = unit.contains("/") ? "(" + unit + ")" : unit;
    String under = c.unit().contains("/") ? "(" + c.unit() + ")" : c.unit();
    return Symbols.of(number + " " + over + (c.unit().equals("1") ? "" : "/" + under));
  }

  private static void row(Table table, Component c, String unit) {
    table
        .begin()
        .head(c.component())
        .cell(c.group())
        .figures(Symbols.of(Figures.size(c.value(), c.unit())))
        .cell(c.distribution().text())
        .figures(sensitivity(c, unit))
        .figures(Symbols.of(Figures.size(c.contribution(), unit)))
        .figures(Figures.degrees(c.degreesOfFreedom()))
        .end();
  }
}
