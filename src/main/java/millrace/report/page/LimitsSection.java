// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.evidence.Judgement;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.report.chart.LimitPicture;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;
import millrace.report.words.AtWords;
import millrace.report.words.CoverWords;
import millrace.report.words.Figures;
import millrace.report.words.Margin;
import millrace.report.words.RuleWords;
import millrace.report.words.RunVerdict;

/** How each limit was met: all at a glance, then one by one. */
final class LimitsSection {
  /** Links to the limits one by one. */
  static final String NAME = "limits";

  private LimitsSection() {}

  static void write(Sheet sheet) {
    List<Result> judged = new RunVerdict(sheet.assessment()).judged();
    if (judged.isEmpty()) {
      return;
    }
    sheet.section("Limits at a glance", "glance").paragraph(RuleWords.of(judged));
    Glance.write(sheet, judged);
    sheet
        .paragraph(
            "In the pictures the shaded stretch is allowed, the strokes are its limits, the dot is"
                + " the value and the bar its coverage interval; an arrow points to what lies"
                + " farther out. Where a limit has one side only, distance from it is drawn by"
                + " factors of U: ticks stand at 1, 10, 100 and 1000 U.")
        .end();
    sheet.section("Limit by limit, the worst first", NAME);
    Table table =
        Table.stacked(
            sheet.out(),
            "What failed, what was not evaluated and why, then what is met, by its distance from"
                + " the limit over U",
            Table.Column.words("Conformity"),
            Table.Column.words("Range"),
            Table.Column.words("Quantity"),
            Table.Column.words("Value \u00b1 U, and how it is known"),
            Table.Column.words("Distance"),
            Table.Column.words("Limit"),
            Table.Column.words("Picture"));
    judged.forEach(r -> row(sheet, table, r));
    table.close();
    sheet.end();
  }

  /** What, at which condition, and over which it is promised. */
  private static void what(Sheet sheet, Result r, Judgement j) {
    Markup out = sheet.out();
    sheet.link(r.quantity().inWords(), "r" + sheet.number(r));
    String at = Symbols.of(AtWords.of(r.at()));
    if (!at.isEmpty()) {
      out.text(" ").element("span", at, "class", "at");
    }
    String box = CoverWords.box(j.when());
    if (!box.isEmpty()) {
      out.element("div", "promised over " + Symbols.of(box), "class", "at");
    }
  }

  /** The value with its uncertainty, how it is known and how sure that makes the verdict. */
  private static void value(Markup out, Result r, Judgement j) {
    out.text(Symbols.of(Figures.inWords(r)));
    if (!(r.outcome() instanceof Outcome.Missing)) {
      String certainty = CoverWords.certainty(j);
      out.element(
          "div",
          Symbols.of(CoverWords.basis(j.covers())) + (certainty.isEmpty() ? "" : "; " + certainty),
          "class",
          "at");
      j.covers().wanting().forEach(w -> out.element("div", Symbols.of(w), "class", "at"));
    }
  }

  private static void row(Sheet sheet, Table table, Result r) {
    Judgement j = r.judgement().orElseThrow();
    table
        .begin()
        .cell(out -> MarkedWords.conformity(out, j.conformity()))
        .cell(r.range().orElse("all"))
        .cell(out -> what(sheet, r, j))
        .cell(out -> value(out, r, j))
        .cell(Margin.inWords(r))
        .cell(Symbols.of(Figures.limit(j.limit(), r.quantity().unit())))
        .cell(out -> LimitPicture.write(out, r))
        .end();
  }
}
