// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.report.chart.ResultLimitBars;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.BoxJudgementWords;
import millrace.report.words.DecisionRuleWords;
import millrace.report.words.LimitMargin;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;
import millrace.report.words.RunVerdictText;

/** Conformity with each limit: first the overview, then each limit. */
final class LimitsSection {
  /** Anchor of the list of limits. */
  static final String NAME = "limits";

  private LimitsSection() {}

  static void write(ReportContext sheet) {
    List<Result> judged = new RunVerdictText(sheet.assessment()).judged();
    if (judged.isEmpty()) {
      return;
    }
    sheet.section("Limits at a glance", "glance").paragraph(DecisionRuleWords.of(judged));
    LimitsOverviewTable.write(sheet, judged);
    sheet
        .paragraph(
            "In the pictures the shaded stretch is allowed, the strokes are its limits, the dot is"
                + " the value and the bar its coverage interval; an arrow points to what lies"
                + " farther out. Where a limit has one side only, distance from it is drawn by"
                + " factors of U: ticks stand at 1, 10, 100 and 1000 U.")
        .end();
    sheet.section("Limit by limit, the worst first", NAME);
    HtmlTable table =
        HtmlTable.stacked(
            sheet.out(),
            "What failed, what was not evaluated and why, then what is met, by its distance from"
                + " the limit over U",
            HtmlTable.Column.words("Conformity"),
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.words("Value \u00b1 U, and how it is known"),
            HtmlTable.Column.words("Distance"),
            HtmlTable.Column.words("Limit"),
            HtmlTable.Column.words("Picture"));
    judged.forEach(r -> row(sheet, table, r));
    table.close();
    sheet.end();
  }

  /** Writes the quantity, its condition, and the conditions of the limit. */
  private static void what(ReportContext sheet, Result r, Judgement j) {
    Markup out = sheet.out();
    sheet.link(r.quantity().inWords(), "r" + sheet.number(r));
    String at = PrintedUnitSymbols.of(ResultConditionWords.of(r.at()));
    if (!at.isEmpty()) {
      out.text(" ").element("span", at, "class", "at");
    }
    String box = BoxJudgementWords.box(j.when());
    if (!box.isEmpty()) {
      out.element("div", "promised over " + PrintedUnitSymbols.of(box), "class", "at");
    }
  }

  /** Writes the value with its uncertainty, its basis, and the certainty of the verdict. */
  private static void value(Markup out, Result r, Judgement j) {
    out.text(PrintedUnitSymbols.of(ResultFigures.inWords(r)));
    if (!(r.outcome() instanceof ComputationOutcome.Missing)) {
      String certainty = BoxJudgementWords.certainty(j);
      out.element(
          "div",
          PrintedUnitSymbols.of(BoxJudgementWords.basis(j.covers()))
              + (certainty.isEmpty() ? "" : "; " + certainty),
          "class",
          "at");
      j.covers()
          .wanting()
          .forEach(w -> out.element("div", PrintedUnitSymbols.of(w), "class", "at"));
    }
  }

  private static void row(ReportContext sheet, HtmlTable table, Result r) {
    Judgement j = r.judgement().orElseThrow();
    table
        .begin()
        .cell(out -> HighlightedWords.conformity(out, j.conformity()))
        .cell(r.range().orElse("all"))
        .cell(out -> what(sheet, r, j))
        .cell(out -> value(out, r, j))
        .cell(LimitMargin.inWords(r))
        .cell(PrintedUnitSymbols.of(ResultFigures.limit(j.limit(), r.quantity().unit())))
        .cell(out -> ResultLimitBars.write(out, r))
        .end();
  }
}
