// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.evidence.Judgement;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;
import millrace.report.words.CoverWords;
import millrace.report.words.Figures;
import millrace.report.words.RuleWords;

/** How each limit was met: all at a glance, then one by one. */
final class LimitsSection {
  private LimitsSection() {}

  static void write(Sheet sheet) {
    List<Result> judged =
        sheet.assessment().results().stream().filter(r -> r.judgement().isPresent()).toList();
    if (judged.isEmpty()) {
      return;
    }
    sheet.section("Limits at a glance", "glance").paragraph(RuleWords.of(judged));
    Glance.write(sheet, judged);
    sheet.paragraph(
        "In the pictures the shaded stretch is allowed, the strokes are its limits, the dot is the"
            + " value and the bar its coverage interval; an arrow points to what lies farther"
            + " out.");
    sheet.end();
    sheet.section("Conformity, limit by limit", "limits");
    Table table =
        Table.open(
            sheet.out(),
            "Each result that has a limit",
            Table.Column.words("Range"),
            Table.Column.words("Quantity"),
            Table.Column.words("Value \u00b1 U, and how it is known"),
            Table.Column.figures("Limit"),
            Table.Column.words(sheet.simulated() ? "Picture (SIMULATED)" : "Picture"),
            Table.Column.words("Conformity"));
    judged.forEach(r -> row(table, r));
    table.close();
    sheet.end();
  }

  /** What, at which condition, and over which it is promised. */
  private static void what(Markup out, Result r, Judgement j) {
    MarkedWords.quantity(out, r);
    String box = CoverWords.box(j.when());
    if (!box.isEmpty()) {
      out.element("div", "promised over " + Symbols.of(box), "class", "at");
    }
  }

  /** The value with its uncertainty, and how it is known. */
  private static void value(Markup out, Result r, Judgement j) {
    out.text(Symbols.of(Figures.inWords(r)));
    if (!(r.outcome() instanceof Outcome.Missing)) {
      out.element("div", Symbols.of(CoverWords.basis(j.covers())), "class", "at");
      j.covers().wanting().forEach(w -> out.element("div", Symbols.of(w), "class", "at"));
    }
  }

  private static void conformity(Markup out, Judgement j) {
    MarkedWords.conformity(out, j.conformity());
    String certainty = CoverWords.certainty(j);
    if (!certainty.isEmpty()) {
      out.element("div", certainty, "class", "at");
    }
  }

  private static void row(Table table, Result r) {
    Judgement j = r.judgement().orElseThrow();
    table
        .begin()
        .head(r.range().orElse("all"))
        .cell(out -> what(out, r, j))
        .cell(out -> value(out, r, j))
        .figures(Symbols.of(Figures.limit(j.limit(), r.quantity().unit())))
        .cell(out -> Pictures.limit(out, r))
        .cell(out -> conformity(out, j))
        .end();
  }
}
