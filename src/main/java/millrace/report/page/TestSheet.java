// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.io.Writer;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.assessment.Assessment;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.DecisionRuleWords;
import millrace.report.words.OverallVerdict;
import millrace.report.words.OverdueInstruments;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;
import millrace.report.words.RunRemarkWords;
import millrace.report.words.SurroundingsWords;

/**
 * The page that goes with a unit: one or two sheets of A4 with what was found against which limits,
 * by which rule, under which conditions, with which instruments, room for signatures, and the
 * digest of the readings. A single HTML file that needs no network and no script. Stateless; one
 * thread at a time per run.
 */
public final class TestSheet {
  private final ReportContext sheet;
  private final Markup out;
  private final Assessment assessment;

  private TestSheet(ReportContext sheet) {
    this.sheet = sheet;
    this.out = sheet.out();
    this.assessment = sheet.assessment();
  }

  /**
   * Writes the sheet.
   *
   * @param target where to, UTF-8; stays open
   * @param assessment what was found about the run
   * @param run the run
   */
  public static void write(Writer target, Assessment assessment, RunReader run) {
    Markup out = Markup.to(target);
    new TestSheet(new ReportContext(out, assessment, run)).page();
  }

  private void page() {
    String simulated = sheet.stamp().map(w -> w + ": ").orElse("");
    HtmlPageFrame.open(
        out,
        simulated + "test sheet of unit " + sheet.start().unit(),
        sheet.simulated(),
        "sheet.css",
        "signatures.css");
    top();
    results();
    conditions();
    instruments();
    remarks();
    BatchRecordSection.signatures(out, "Tested by");
    origin();
    HtmlPageFrame.close(out);
  }

  private void top() {
    OverallVerdict verdict = OverallVerdict.of(assessment.results());
    out.line().open("header").open("div", "class", "top");
    sheet.title("Test sheet of unit " + sheet.start().unit());
    out.open("p", "class", "outcome").element("strong", mark() + verdict.word());
    out.text(" " + verdict.sentence()).close().close();
    facts();
    out.close();
  }

  /** A shape beside the word, for those who look from afar. */
  private String mark() {
    Optional<Conformity> together = Result.together(assessment.results());
    if (together.isEmpty() || together.get() == Conformity.NOT_EVALUATED) {
      return "? ";
    }
    boolean passed =
        together.get() == Conformity.PASS || together.get() == Conformity.CONDITIONAL_PASS;
    return passed ? "\u2713 " : "\u2717 ";
  }

  private void facts() {
    RunStart start = assessment.run().start();
    ReportContext.Facts facts = sheet.facts().kind().fact("Test", start.title());
    facts.fact("Tested", sheet.measured()).run();
    JudgementFileList.facts(sheet, facts, true);
    start.people().operator().ifPresent(o -> facts.fact("Operator", o));
    start.people().batch().ifPresent(b -> facts.fact("Batch", b));
    sheet.run().setUp().ifPresent(s -> facts.fact("Set-up", s.fixture() + ", " + s.cables()));
    facts.fact("Readings", start.origin().text() + ", " + sheet.run().readingCount()).end();
  }

  private void results() {
    List<Result> judged = judged();
    sheet.section("Results", "results");
    if (judged.isEmpty()) {
      sheet.paragraph("No limit applies to any result of this run.").end();
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            out,
            "Values and expanded uncertainties U are rounded to two significant digits of U",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Value \u00b1 U"),
            HtmlTable.Column.words("Limit"),
            HtmlTable.Column.words("Accepted"),
            HtmlTable.Column.words("Conformity"));
    judged.forEach(r -> row(table, r));
    table.close();
    sheet.paragraph(
        DecisionRuleWords.of(judged)
            + " \u2018Accepted\u2019 is what that leaves of the limit. U covers "
            + NumberText.significant(100 * assessment.basis().coverage(), 4)
            + " %"
            + " (k near 2 unless few readings or one rectangular component shape it otherwise).");
    sheet.end();
  }

  /** What has a limit, range by range in the order of their first results. */
  private List<Result> judged() {
    Map<Optional<String>, List<Result>> ranges = new LinkedHashMap<>();
    assessment.results().stream()
        .filter(r -> r.judgement().isPresent())
        .forEach(r -> ranges.computeIfAbsent(r.range(), k -> new ArrayList<>()).add(r));
    return ranges.values().stream().flatMap(List::stream).toList();
  }

  private static String what(Result r) {
    String worst = Measurand.of(r).worst() ? ", worst point" : "";
    String at =
        PrintedUnitSymbols.of(ResultConditionWords.of(r.at())).replace(" \u00b0C", "\u00a0\u00b0C");
    return r.quantity().inWords() + worst + (at.isEmpty() ? "" : ", " + at);
  }

  private static void row(HtmlTable table, Result r) {
    Judgement j = r.judgement().orElseThrow();
    String unit = r.quantity().unit();
    table
        .begin()
        .head(r.range().orElse("all"))
        .cell(what(r))
        .figures(PrintedUnitSymbols.of(ResultFigures.inWords(r)))
        .cell(PrintedUnitSymbols.of(ResultFigures.limit(j.limit(), unit)))
        .cell(PrintedUnitSymbols.of(accepted(r, j)))
        .cell(out -> HighlightedWords.conformity(out, j.conformity()))
        .end();
  }

  /** The limit less its guard band, with the uncertainty of this very result. */
  private static String accepted(Result r, Judgement j) {
    double u = ResultFigures.uncertainty(r).map(x -> x.expanded()).orElse(0.0);
    boolean simple = j.rule().kind() == DecisionRule.Kind.SIMPLE;
    Optional<Limit> left = j.limit().narrowed(simple ? 0 : j.rule().guardFactor() * u);
    return left.map(l -> ResultFigures.bare(l, u, r.quantity().unit())).orElse("nothing");
  }

  private void conditions() {
    sheet.section("Conditions", "conditions");
    List<String> lines = new ArrayList<>(SurroundingsWords.of(sheet.run()));
    lines.add(
        "results refer to "
            + NumberText.fixed(assessment.basis().referenceDegC(), 1)
            + " \u00b0C where no temperature is given");
    sheet.paragraph(lines.stream().collect(Collectors.joining("; ", "As read: ", "."))).end();
  }

  private void instruments() {
    sheet.section("Instruments and traceability", "instruments");
    List<InstrumentEntry> used = sheet.run().instruments();
    if (used.isEmpty()) {
      sheet.paragraph("The readings were taken elsewhere; their file states no instruments.").end();
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            out,
            "Values are traceable as far as the certificates named here are",
            HtmlTable.Column.words("Does"),
            HtmlTable.Column.words("Identity, as it replied"),
            HtmlTable.Column.words("Certificate"),
            HtmlTable.Column.words("Calibrated"),
            HtmlTable.Column.words("Due"));
    used.stream().filter(i -> i.certificate().isPresent()).forEach(i -> certified(table, i));
    table.close();
    String others =
        used.stream()
            .filter(i -> i.certificate().isEmpty())
            .map(i -> i.name() + " (" + i.roles() + ")")
            .collect(Collectors.joining(", "));
    if (!others.isEmpty()) {
      sheet.paragraph("Without a certificate: " + others + ".");
    }
    sheet.list(OverdueInstruments.of(sheet.run())).end();
  }

  private static void certified(HtmlTable table, InstrumentEntry i) {
    BatchRecordSection.certified(table, BatchRecordSection.cells(i));
    table.end();
  }

  private void remarks() {
    List<String> said = RunRemarkWords.of(assessment, sheet.run());
    if (!said.isEmpty()) {
      sheet.section("Remarks", "remarks").list(said).end();
    }
  }

  private void origin() {
    RunSummary run = assessment.run();
    out.line().open("footer").open("p").text("SHA-256 of what was measured: ");
    out.element("code", run.digest().orElseGet(() -> sheet.run().digest()));
    sheet.run().seal().ifPresent(seal -> out.text("; sealed with results: ").element("code", seal));
    out.text(
        "; \u2018millrace show "
            + run.uuid()
            + " --verify\u2019 computes them again. Written by Millrace "
            + run.start().millrace()
            + ".");
    out.close().close();
  }
}
