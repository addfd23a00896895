// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.analysis.variance.VarianceComponents.Component;
import millrace.assessment.comparison.ComparisonFactor;
import millrace.assessment.comparison.ResultsByGroup;
import millrace.assessment.comparison.ScatterSource;
import millrace.evidence.Measurand;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.table.TextColumns;
import millrace.report.words.ResultFigures;

/** Where the scatter of each quantity comes from: how much of it each factor brings. */
public final class ScatterSourceTable {
  private static final int WIDEST = 40;
  private static final int MOST_SENTENCES = 3;
  private static final double PERCENT = 100;
  private static final String TITLE = "where the scatter comes from";

  private ScatterSourceTable() {}

  /** A factor that certainly brings scatter to a quantity. */
  private record Certain(Measurand what, ScatterSource source) {
    String sentence() {
      return "%s of the variance of %s comes with the %s (standard deviation %s, %s)."
          .formatted(
              percent(source),
              MeasurandWords.name(what, s -> s),
              source.name(),
              size(source.component().sd(), what),
              interval(source.component(), what));
    }
  }

  /**
   * The largest sources in sentences.
   *
   * @param by results by group
   * @return at least a sentence; none without a quantity
   */
  public static List<String> sentences(ResultsByGroup by) {
    if (by.rows().isEmpty()) {
      return List.of();
    }
    List<Certain> certain =
        by.rows().stream()
            .flatMap(
                row ->
                    row.sources().stream()
                        .filter(s -> s.component().lower() > 0 && named(by, s))
                        .map(s -> new Certain(row.what(), s)))
            .sorted(Comparator.comparingDouble((Certain c) -> c.source.share()).reversed())
            .toList();
    List<String> sentences =
        new ArrayList<>(certain.stream().limit(MOST_SENTENCES).map(Certain::sentence).toList());
    if (certain.isEmpty()) {
      sentences.add(
          "No scatter can be put down to the %s with certainty."
              .formatted(
                  by.by().stream()
                      .map(ComparisonFactor::text)
                      .collect(Collectors.joining(" or the "))));
    }
    by.notes().forEach(note -> sentences.add("Note: " + note + "."));
    return sentences;
  }

  private static boolean named(ResultsByGroup by, ScatterSource source) {
    return by.by().stream().anyMatch(f -> source.name().contains(f.text()));
  }

  private static String percent(ScatterSource source) {
    return NumberText.significant(PERCENT * source.share(), 2) + " %";
  }

  private static String size(double sd, Measurand what) {
    return ResultFigures.size(sd, what.quantity().unit());
  }

  private static String interval(Component c, Measurand what) {
    return Double.isFinite(c.upper())
        ? "%s to %s".formatted(size(c.lower(), what), size(c.upper(), what))
        : "%s or more".formatted(size(c.lower(), what));
  }

  /** The cells of a source after those of its quantity. */
  private static Stream<String> cells(Measurand what, ScatterSource s) {
    return Stream.of(
        s.name(), percent(s), size(s.component().sd(), what), interval(s.component(), what));
  }

  /** The table with its title; empty text if no source can be told. */
  static String text(ResultsByGroup by) {
    TextColumns table =
        new TextColumns(WIDEST, "quantity", "range", "source", "share", "sd", "interval of the sd");
    for (ResultsByGroup.Row row : by.rows()) {
      String quantity = row.what().quantity().inWords();
      String range = row.what().range().orElse("");
      for (ScatterSource source : row.sources()) {
        List<String> cells = cells(row.what(), source).toList();
        table.row(quantity, range, cells.get(0), cells.get(1), cells.get(2), cells.get(3));
        quantity = "";
        range = "";
      }
    }
    return table.empty() ? "" : "\n" + TITLE + "\n" + table.text();
  }

  /** Writes the same as a table of a page, sentences before it. */
  static void write(Markup out, ResultsByGroup by) {
    sentences(by).forEach(s -> out.element("p", PrintedUnitSymbols.of(s)));
    if (by.rows().stream().allMatch(r -> r.sources().isEmpty())) {
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            out,
            "Where the scatter comes from",
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.words("Source"),
            HtmlTable.Column.figures("Share of the variance"),
            HtmlTable.Column.figures("Standard deviation"),
            HtmlTable.Column.figures("Its interval"));
    for (ResultsByGroup.Row row : by.rows()) {
      for (ScatterSource source : row.sources()) {
        List<String> cells = cells(row.what(), source).map(PrintedUnitSymbols::of).toList();
        table
            .begin()
            .head(MeasurandWords.printed(row.what()))
            .cell(cells.get(0))
            .figures(cells.get(1))
            .figures(cells.get(2))
            .figures(cells.get(3))
            .end();
      }
    }
    table.close();
  }
}
