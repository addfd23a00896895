// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import millrace.assessment.SideBySide;
import millrace.evidence.Result;
import millrace.report.plot.Symbols;
import millrace.report.table.SideBySideTable;
import millrace.report.words.AtWords;

/** What an earlier judging of the same readings came to; left out where there was none. */
final class JudgedAgainSection {
  private JudgedAgainSection() {}

  static void write(Sheet sheet) {
    SideBySide.of(sheet.run(), sheet.assessment()).ifPresent(b -> write(sheet, b));
  }

  private static void write(Sheet sheet, SideBySide beside) {
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
    Table table =
        Table.open(
            sheet.out(),
            "Results that differ",
            Table.Column.words("Range"),
            Table.Column.words("Quantity"),
            Table.Column.figures("Before"),
            Table.Column.figures("Now"),
            Table.Column.words("Conformity"));
    beside.pairs().forEach(p -> row(table, p));
    table.close();
    sheet.list(sheet.assessment().basis().later());
    sheet.end();
  }

  private static void row(Table table, SideBySide.Pair pair) {
    Result either = pair.either();
    String at = AtWords.of(either.at());
    table
        .begin()
        .head(either.range().orElse("all"))
        .cell(either.quantity().inWords() + (at.isEmpty() ? "" : ", " + Symbols.of(at)))
        .figures(Symbols.of(SideBySideTable.figures(pair.before())))
        .figures(Symbols.of(SideBySideTable.figures(pair.now())))
        .cell(SideBySideTable.conformities(pair).replace("->", "\u2192"))
        .end();
  }
}
