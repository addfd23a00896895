// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
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
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Result;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.ReadingCursor;
import millrace.logbook.Remark;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.DecisionRuleWords;
import millrace.report.words.OverallVerdict;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/**
 * The page that goes with a unit: one or two sheets of A4 with what was found against which limits,
 * by which rule, under which conditions, with which instruments, room for signatures, and the
 * digest of the readings. A single HTML file that needs no network and no script. Stateless; one
 * thread at a time per run.
 */
public final class TestSheet {
  private static final List<MeasuredSignal> SURROUNDINGS =
      List.of(
          MeasuredSignal.UNIT_TEMPERATURE,
          MeasuredSignal.CHAMBER_TEMPERATURE,
          MeasuredSignal.LAB_TEMPERATURE,
          MeasuredSignal.HUMIDITY);

  private final ReportContext sheet;
  private final Markup out;
  private final Assessment assessment;

  private TestSheet(ReportContext sheet) {
    this.sheet = sheet;
    this.out = sheet.out();
    this.assessment = sheet.assessment();
  }

  /**
   * Writes the sheet. The file is either whole or not there.
   *
   * @param file where to; the folder must exist
   * @param assessment what was found about the run
   * @param run the run
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(Path file, Assessment assessment, RunReader run) {
    HtmlPageFrame.write(
        file,
        writer -> {
          Markup out = Markup.to(writer);
          new TestSheet(new ReportContext(out, assessment, run)).page();
        });
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
    List<String> lines = new ArrayList<>();
    for (MeasuredSignal signal : SURROUNDINGS) {
      DoubleSummaryStatistics seen = seen(signal);
      if (seen.getCount() > 0) {
        lines.add(
            "%s %s, from %s to %s"
                .formatted(
                    signal.text(),
                    print(seen.getAverage(), signal),
                    print(seen.getMin(), signal),
                    print(seen.getMax(), signal)));
      }
    }
    lines.add(
        "results refer to "
            + NumberText.fixed(assessment.basis().referenceDegC(), 1)
            + " \u00b0C where no temperature is given");
    sheet.paragraph(lines.stream().collect(Collectors.joining("; ", "As read: ", "."))).end();
  }

  private DoubleSummaryStatistics seen(MeasuredSignal signal) {
    DoubleSummaryStatistics seen = new DoubleSummaryStatistics();
    try (ReadingCursor cursor = sheet.run().readings(signal)) {
      while (cursor.next()) {
        if (cursor.hasValue()) {
          seen.accept(cursor.value());
        }
      }
    }
    return seen;
  }

  private static String print(double value, MeasuredSignal signal) {
    return switch (signal) {
      case HUMIDITY -> NumberText.fixed(value * 100, 0) + " %";
      default -> NumberText.fixed(value, 1) + " \u00b0C";
    };
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
    sheet.list(InstrumentsSection.overdue(sheet)).end();
  }

  private static void certified(HtmlTable table, InstrumentEntry i) {
    BatchRecordSection.certified(table, BatchRecordSection.cells(i));
    table.end();
  }

  private void remarks() {
    List<String> said = new ArrayList<>();
    RunSummary run = assessment.run();
    if (run.state() != RunState.COMPLETE) {
      said.add("This run is " + run.state().text() + ".");
    }
    if (!assessment.points().whole()) {
      said.add("Not all points are good: " + assessment.points().inWords() + ".");
    }
    run.start()
        .facts()
        .retestCause()
        .ifPresent(cause -> said.add("A retest, because: " + cause + ". The first result counts."));
    sheet.run().remarks().forEach(r -> said.add(words(r)));
    if (!assessment.basis().otherBenches().isEmpty()) {
      said.add("Judged again without measuring again: " + assessment.basis().reason() + ".");
    }
    said.addAll(assessment.basis().later());
    if (!said.isEmpty()) {
      sheet.section("Remarks", "remarks").list(said).end();
    }
  }

  private static String words(Remark r) {
    String what = r.point().isPresent() ? "Point " + r.point().getAsLong() : "Run";
    return "%s, %s: %s (%s)".formatted(what, r.kind().text(), r.text(), r.author());
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
