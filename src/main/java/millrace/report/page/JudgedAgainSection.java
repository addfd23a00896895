// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import millrace.assessment.JudgementComparison;
import millrace.evidence.Result;
import millrace.report.frame.HtmlTable;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.table.JudgementComparisonTable;
import millrace.report.words.ResultConditionWords;

/** Outcome of an earlier judgement of the same readings; left out if there was none. */
final class JudgedAgainSection {
  private JudgedAgainSection() {}

  static void write(ReportContext sheet) {
    JudgementComparison.of(sheet.run(), sheet.assessment()).ifPresent(b -> write(sheet, b));
  }

  private static void write(ReportContext sheet, JudgementComparison beside) {
    sheet.section("Judged again", "again");
    sheet.paragraph(
        "The readings are those of the run; nothing was measured again. Results in this report: "
            + sheet.assessment().basis().reason()
            + ". Before, on "
            + sheet.local(beside.earlier().madeAt())
            + ": "
            + beside.earlier().reason()
            + ". "
            + beside.alike()
            + " results are the same in both to a hundredth of their uncertainty.");
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Results that differ",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Before"),
            HtmlTable.Column.figures("Now"),
            HtmlTable.Column.words("Conformity"));
    beside.pairs().forEach(p -> row(table, p));
    table.close();
    sheet.list(sheet.assessment().basis().later());
    sheet.end();
  }

  private static void row(HtmlTable table, JudgementComparison.Pair pair) {
    Result either = pair.either();
    String at = ResultConditionWords.of(either.at());
    table
        .begin()
        .head(either.range().orElse("all"))
        .cell(either.quantity().inWords() + (at.isEmpty() ? "" : ", " + PrintedUnitSymbols.of(at)))
        .figures(PrintedUnitSymbols.of(JudgementComparisonTable.figures(pair.before())))
        .figures(PrintedUnitSymbols.of(JudgementComparisonTable.figures(pair.now())))
        .cell(JudgementComparisonTable.conformities(pair).replace("->", "\u2192"))
        .end();
  }
}
