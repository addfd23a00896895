// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.assessment.comparison.ComparisonFactor;
import millrace.assessment.comparison.ResultsByGroup;
import millrace.evidence.Measurand;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.table.TextColumns;

/** Results of a quantity per group, one row per group. */
final class ResultsByGroupTable {
  private static final int WIDEST = 30;
  private static final String NOBODY_SAID = "not stated";

  private ResultsByGroupTable() {}

  /** The results of one quantity for one group. */
  private record Line(Measurand what, String group, BatchMeanAndSpread spread) {
    String mean() {
      return MeasurandWords.among(spread, spread.mean(), what);
    }

    String scatter() {
      return MeasurandWords.scatter(spread, what);
    }

    String least() {
      return MeasurandWords.among(spread, spread.least(), what);
    }

    String largest() {
      return MeasurandWords.among(spread, spread.largest(), what);
    }
  }

  private static List<Line> lines(ResultsByGroup by, ResultsByGroup.Row row) {
    List<Line> lines = new ArrayList<>();
    for (int i = 0; i < by.groups().size(); i++) {
      String group =
          by.groups().get(i).stream()
              .map(name -> name.isEmpty() ? NOBODY_SAID : name)
              .collect(Collectors.joining(", "));
      Optional<BatchMeanAndSpread> spread = row.cells().get(i);
      spread.ifPresent(s -> lines.add(new Line(row.what(), group, s)));
    }
    return lines;
  }

  private static String factors(ResultsByGroup by) {
    return by.by().stream().map(ComparisonFactor::text).collect(Collectors.joining(", "));
  }

  /** One table per quantity, each after an empty line and its name. */
  static String text(ResultsByGroup by) {
    Map<String, TextColumns> tables = new LinkedHashMap<>();
    for (ResultsByGroup.Row row : by.rows()) {
      List<Line> lines = lines(by, row);
      if (lines.isEmpty()) {
        continue;
      }
      TextColumns table =
          tables.computeIfAbsent(
              LimitedQuantityTables.name(row.what()) + ", by " + factors(by),
              name ->
                  new TextColumns(
                      WIDEST, "range", factors(by), "n", "mean", "sd", "least", "largest"));
      String range = row.what().range().orElse("");
      for (Line line : lines) {
        table.row(
            range,
            line.group,
            String.valueOf(line.spread.n()),
            line.mean(),
            line.scatter(),
            line.least(),
            line.largest());
        range = "";
      }
    }
    StringBuilder text = new StringBuilder();
    tables.forEach((name, t) -> text.append('\n').append(name).append('\n').append(t.text()));
    return text.append(ScatterSourceTable.text(by)).toString();
  }

  /** Writes the same tables as a section of a page. */
  static void write(Markup out, ResultsByGroup by) {
    out.line().open("section").element("h2", "By " + factors(by));
    ScatterSourceTable.write(out, by);
    HtmlTable table =
        HtmlTable.open(
            out,
            "Mean and scatter over the units of each group",
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.words("Group"),
            HtmlTable.Column.figures("n"),
            HtmlTable.Column.figures("Mean"),
            HtmlTable.Column.figures("Standard deviation"),
            HtmlTable.Column.figures("Least"),
            HtmlTable.Column.figures("Largest"));
    for (ResultsByGroup.Row row : by.rows()) {
      for (Line line : lines(by, row)) {
        table
            .begin()
            .head(MeasurandWords.printed(row.what()))
            .cell(line.group)
            .figures(String.valueOf(line.spread.n()))
            .figures(PrintedUnitSymbols.of(line.mean()))
            .figures(PrintedUnitSymbols.of(line.scatter()))
            .figures(PrintedUnitSymbols.of(line.least()))
            .figures(PrintedUnitSymbols.of(line.largest()))
            .end();
      }
    }
    table.close();
    out.close();
  }
}
