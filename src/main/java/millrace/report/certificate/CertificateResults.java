// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.util.List;
import millrace.assessment.Assessment;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.BoxJudgementWords;
import millrace.report.words.FigureColumns;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/** Results of a certificate: those with a limit, and the current of each range as found. */
final class CertificateResults {
  /** Most rows of currents in a certificate; the annex lists the rest. */
  private static final int MOST_CURRENTS = 32;

  private final Markup out;
  private final Assessment assessment;

  CertificateResults(Markup out, Assessment assessment) {
    this.out = out;
    this.assessment = assessment;
  }

  void write() {
    List<Result> judged = DocumentParts.judged(assessment);
    if (!judged.isEmpty()) {
      out.line().element("h2", "Results against the limits of the datasheet");
      out.open("div", "class", "judged");
      judged(judged);
      out.close();
    }
    List<Result> currents = currents();
    if (!currents.isEmpty()) {
      out.line().element("h2", "Current as found");
      currents(currents.subList(0, Math.min(currents.size(), MOST_CURRENTS)));
      if (currents.size() > MOST_CURRENTS) {
        out.element(
            "p", (currents.size() - MOST_CURRENTS) + " more stand among all results in the annex.");
      }
    }
    if (judged.isEmpty() && currents.isEmpty()) {
      out.line().element("h2", "Results");
      out.element("p", "The run has no result that has a limit, and no current.");
    }
  }

  private List<Result> currents() {
    return assessment.results().stream()
        .filter(r -> r.quantity() == ResultQuantity.CURRENT && r.judgement().isEmpty())
        .filter(r -> !(r.outcome() instanceof ComputationOutcome.Missing))
        .toList();
  }

  private void judged(List<Result> judged) {
    HtmlTable table =
        HtmlTable.open(
            out,
            "",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity, at its worst condition"),
            HtmlTable.Column.figures("Value"),
            HtmlTable.Column.figures("U"),
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.figures("k"),
            HtmlTable.Column.words("Limit"),
            HtmlTable.Column.words("Known"),
            HtmlTable.Column.words("Conformity"));
    List<FigureColumns> figures = FigureColumns.of(judged);
    for (int i = 0; i < judged.size(); i++) {
      row(table, judged.get(i), figures.get(i));
    }
    table.close();
  }

  private static void row(HtmlTable table, Result r, FigureColumns figures) {
    Judgement j = r.judgement().orElseThrow();
    table.begin().head(r.range().orElse("all")).cell(out -> what(out, r, j));
    figures(table, figures);
    table
        .cell(PrintedUnitSymbols.of(ResultFigures.limit(j.limit(), r.quantity().unit())))
        .cell(
            r.outcome() instanceof ComputationOutcome.Missing
                ? "no"
                : PrintedUnitSymbols.of(BoxJudgementWords.basis(j.covers())))
        .cell(out -> HighlightedWords.conformity(out, j.conformity()))
        .end();
  }

  private static void figures(HtmlTable table, FigureColumns f) {
    table.figures(PrintedUnitSymbols.of(f.value()));
    table.figures(f.expanded());
    table.cell(out -> out.element("span", PrintedUnitSymbols.of(f.unit()), "class", "short"));
    table.figures(f.factor());
  }

  private static void what(Markup out, Result r, Judgement j) {
    String worst = Measurand.of(r).worst() ? ", worst point" : "";
    String at = PrintedUnitSymbols.of(ResultConditionWords.of(r.at()));
    out.text(r.quantity().inWords() + worst + (at.isEmpty() ? "" : ", " + at));
    String box = BoxJudgementWords.box(j.when());
    if (!box.isEmpty()) {
      out.element("div", "promised over " + PrintedUnitSymbols.of(box), "class", "at");
    }
    ResultFigures.missing(r).ifPresent(why -> out.element("div", why, "class", "at"));
    j.covers().wanting().forEach(w -> out.element("div", PrintedUnitSymbols.of(w), "class", "at"));
  }

  private void currents(List<Result> currents) {
    HtmlTable table =
        HtmlTable.open(
            out,
            "",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Condition"),
            HtmlTable.Column.figures("Current"),
            HtmlTable.Column.figures("U"),
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.figures("k"));
    List<FigureColumns> figures = FigureColumns.of(currents);
    for (int i = 0; i < currents.size(); i++) {
      Result r = currents.get(i);
      table.begin().head(r.range().orElse("all"));
      table.cell(PrintedUnitSymbols.of(ResultConditionWords.of(r.at())));
      figures(table, figures.get(i));
      table.end();
    }
    table.close();
  }
}
