// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.report.chart.ResultLimitBars;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.LimitMargin;
import millrace.report.words.ResultFigures;

/**
 * Overview of all limits: a row per range, a column per quantity. Each cell shows the worst result
 * against its limit as a picture, in figures and in words.
 */
final class LimitsOverviewTable {
  /** Most columns that fit a page. */
  private static final int MOST = 5;

  private final ReportContext sheet;
  private final List<Result> judged;

  private LimitsOverviewTable(ReportContext sheet, List<Result> judged) {
    this.sheet = sheet;
    this.judged = judged;
  }

  static void write(ReportContext sheet, List<Result> judged) {
    LimitsOverviewTable limitsOverviewTable = new LimitsOverviewTable(sheet, judged);
    Set<ResultQuantity> seen = new LinkedHashSet<>();
    judged.forEach(r -> seen.add(r.quantity()));
    List<ResultQuantity> quantities = new ArrayList<>(seen);
    quantities.sort(Comparator.naturalOrder());
    for (int i = 0; i < quantities.size(); i += MOST) {
      limitsOverviewTable.table(quantities.subList(i, Math.min(quantities.size(), i + MOST)));
    }
  }

  private void table(List<ResultQuantity> quantities) {
    List<HtmlTable.Column> columns = new ArrayList<>();
    columns.add(HtmlTable.Column.words("Range"));
    quantities.forEach(q -> columns.add(HtmlTable.Column.words(q.inWords())));
    String caption = "The result that stands worst against its limit, per range and quantity";
    HtmlTable table =
        HtmlTable.stacked(sheet.out(), caption, columns.toArray(HtmlTable.Column[]::new));
    for (Optional<String> range : ranges()) {
      table.begin().head(range.orElse("whole unit"));
      quantities.forEach(q -> table.cell(out -> field(out, range, q)));
      table.end();
    }
    table.close();
  }

  private Set<Optional<String>> ranges() {
    Set<Optional<String>> ranges = new LinkedHashSet<>();
    sheet.assessment().results().stream()
        .filter(judged::contains)
        .forEach(r -> ranges.add(r.range()));
    return ranges;
  }

  private void field(Markup out, Optional<String> range, ResultQuantity quantity) {
    List<Result> here =
        judged.stream()
            .filter(r -> r.range().equals(range) && r.quantity() == quantity)
            .sorted(LimitMargin.worstFirst())
            .toList();
    if (here.isEmpty()) {
      return;
    }
    Result worst = here.get(0);
    HighlightedWords.conformity(out, worst.judgement().orElseThrow().conformity());
    String distance = LimitMargin.inWords(worst);
    String of = here.size() > 1 ? " worst of " + here.size() : "";
    out.element("span", (distance.isEmpty() ? "" : " " + distance) + of, "class", "at");
    ResultLimitBars.write(out, worst);
    out.element(
        "div",
        PrintedUnitSymbols.of(ResultFigures.stated(worst).orElse("not computed")),
        "class",
        "stated");
  }
}
