// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import millrace.assessment.Assessment;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.page.BatchRecordSection;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.DecisionRuleWords;
import millrace.report.words.LimitMargin;
import millrace.report.words.OverallVerdict;
import millrace.report.words.OverdueInstruments;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;
import millrace.report.words.RunDays;
import millrace.report.words.RunRemarkWords;
import millrace.report.words.SurroundingsWords;

/**
 * The test sheet that goes with a unit. A board with some twenty limits fits on one sheet of A4;
 * more limits take more sheets. The outcome comes first and names each unmet limit. Then come
 * issuer and customer if given, results against their limits, the decision rule, conditions,
 * instruments, room for signatures, and the digest of the readings. The sheet is a single HTML file
 * that needs no network and no script. Stateless; one thread at a time per run.
 */
public final class TestSheet {
  /**
   * Most unmet limits named at the top, so that the results stay on the page; the table has them
   * all.
   */
  private static final int MOST_NAMED = 8;

  /** A number and its unit; no line break comes between them. */
  private static final Pattern NUMBER_AND_UNIT = Pattern.compile("(\\d) (\\S{1,4})(?=[, ]|$)");

  private final Markup out;
  private final DocumentParties parties;
  private final Assessment assessment;
  private final RunReader run;

  private TestSheet(Markup out, DocumentParties parties, Assessment assessment, RunReader run) {
    this.out = out;
    this.parties = parties;
    this.assessment = assessment;
    this.run = run;
  }

  /**
   * Writes the sheet.
   *
   * @param target destination, UTF-8; stays open
   * @param parties issuer and customer, as far as known
   * @param assessment findings about the run
   * @param run the run
   */
  public static void write(
      Writer target, DocumentParties parties, Assessment assessment, RunReader run) {
    new TestSheet(Markup.to(target), parties, assessment, run).page();
  }

  private void page() {
    boolean simulated = start().origin() == RunOrigin.SIMULATED;
    String stamp = simulated ? DocumentParts.SIMULATED + ": " : "";
    String title = stamp + "test sheet of unit " + start().unit();
    HtmlPageFrame.openPlain(
        out,
        new HtmlPageFrame.Head(title, title, simulated, "sheet"),
        "certificate.css",
        "sheet.css");
    top(simulated);
    outcome();
    facts();
    results();
    conditions();
    instruments();
    remarks();
    DocumentParts.signatures(out, parties.testedBy(), parties.releasedBy());
    origin();
    HtmlPageFrame.close(out);
  }

  private RunStart start() {
    return assessment.run().start();
  }

  private void top(boolean simulated) {
    out.line().open("header").open("table", "class", "issuer").open("tr").open("td");
    out.element("h1", "Test sheet of unit " + start().unit());
    out.element("div", DocumentParts.kind(assessment));
    if (simulated) {
      out.element("span", DocumentParts.SIMULATED, "class", "stamp");
    }
    out.close();
    parties
        .laboratory()
        .ifPresent(
            laboratory -> {
              out.open("td", "class", "number");
              DocumentParts.issuer(out, laboratory, true);
              out.close();
            });
    out.close().close().close();
  }

  private void outcome() {
    OverallVerdict verdict = OverallVerdict.of(assessment);
    out.line().open("div", "class", "outcome").element("strong", mark() + verdict.word());
    out.text(" " + verdict.sentence());
    List<Result> unmet =
        DocumentParts.judged(assessment).stream()
            .filter(r -> r.judgement().orElseThrow().conformity() != Conformity.PASS)
            .sorted(LimitMargin.worstFirst())
            .toList();
    unmet.stream().limit(MOST_NAMED).forEach(r -> out.element("div", named(r)));
    if (unmet.size() > MOST_NAMED) {
      out.element("div", "and " + (unmet.size() - MOST_NAMED) + " more, in the table below");
    }
    out.close();
  }

  /** One line about an unmet limit: which limit, by how much, and at which conditions. */
  private static String named(Result r) {
    Judgement j = r.judgement().orElseThrow();
    String value = ResultFigures.missing(r).orElseGet(() -> ResultFigures.inWords(r));
    return "%s: %s, %s: %s; limit %s"
        .formatted(
            j.conformity().text(),
            r.range().orElse("all ranges"),
            what(r),
            PrintedUnitSymbols.of(value),
            PrintedUnitSymbols.of(ResultFigures.limit(j.limit(), r.quantity().unit())));
  }

  /** A shape beside the word, so that the verdict can be read from a distance. */
  private String mark() {
    Optional<Conformity> together = Result.together(assessment.results());
    if (together.isEmpty() || together.get() == Conformity.NOT_EVALUATED) {
      return "? ";
    }
    boolean passed =
        together.get() == Conformity.PASS || together.get() == Conformity.CONDITIONAL_PASS;
    return passed ? "\u2713 " : "\u2717 ";
  }

  /** A name and its value. */
  private record Fact(String name, String value) {}

  private void facts() {
    RunSummary summary = assessment.run();
    List<Fact> facts = new ArrayList<>();
    if (!parties.customer().isEmpty()) {
      facts.add(new Fact("Customer", String.join(", ", parties.customer())));
    }
    facts.add(new Fact("Tested", RunDays.inWords(summary)));
    facts.add(new Fact("Test", start().title()));
    start().people().operator().ifPresent(o -> facts.add(new Fact("Operator", o)));
    start().people().batch().ifPresent(b -> facts.add(new Fact("Batch", b)));
    run.setUp().ifPresent(s -> facts.add(new Fact("Set-up", s.fixture() + ", " + s.cables())));
    assessment.basis().benchName().ifPresent(b -> facts.add(new Fact("Bench", b)));
    facts.add(new Fact("Readings", start().origin().text() + ", " + run.readingCount()));
    facts.add(new Fact("Run", summary.id() + " (" + summary.uuid() + ")"));
    out.line().open("table", "class", "facts");
    for (int i = 0; i < facts.size(); i += 2) {
      out.line().open("tr");
      facts.subList(i, Math.min(i + 2, facts.size())).forEach(this::fact);
      out.close();
    }
    out.close();
  }

  private void fact(Fact fact) {
    out.element("th", fact.name(), "scope", "row").element("td", fact.value());
  }

  private void results() {
    List<Result> judged = DocumentParts.judged(assessment);
    section("Results");
    if (judged.isEmpty()) {
      paragraph("No limit applies to any result of this run.");
      return;
    }
    out.open("div", "class", "results");
    HtmlTable table =
        HtmlTable.open(
            out,
            "",
            HtmlTable.Column.words("Range"),
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Value \u00b1 U"),
            HtmlTable.Column.words("Limit"),
            HtmlTable.Column.words("Accepted"),
            HtmlTable.Column.words("Conformity"));
    judged.forEach(r -> row(table, r));
    table.close();
    out.close();
    paragraph(
        DecisionRuleWords.of(judged)
            + " \u2018Accepted\u2019 is what that leaves of the limit. U covers "
            + NumberText.significant(100 * assessment.basis().coverage(), 4)
            + " %; values are rounded to two significant digits of U.");
  }

  private void section(String heading) {
    out.line().element("h2", heading);
  }

  private void paragraph(String text) {
    out.line().element("p", text);
  }

  private static String what(Result r) {
    String worst = Measurand.of(r).worst() ? ", worst point" : "";
    String at =
        NUMBER_AND_UNIT
            .matcher(PrintedUnitSymbols.of(ResultConditionWords.of(r.at())))
            .replaceAll("$1\u00a0$2");
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

  /** The limit less its guard band, from the uncertainty of this result. */
  private static String accepted(Result r, Judgement j) {
    double u = ResultFigures.uncertainty(r).map(x -> x.expanded()).orElse(0.0);
    boolean simple = j.rule().kind() == DecisionRule.Kind.SIMPLE;
    Optional<Limit> left = j.limit().narrowed(simple ? 0 : j.rule().guardFactor() * u);
    return left.map(l -> ResultFigures.bare(l, u, r.quantity().unit())).orElse("nothing");
  }

  private void conditions() {
    section("Conditions");
    List<String> lines = new ArrayList<>(SurroundingsWords.of(run));
    lines.add(
        "results refer to "
            + NumberText.fixed(assessment.basis().referenceDegC(), 1)
            + " \u00b0C where no temperature is given");
    paragraph(lines.stream().collect(Collectors.joining("; ", "As read: ", ".")));
  }

  private void instruments() {
    section("Instruments and traceability");
    List<InstrumentEntry> used = run.instruments();
    if (used.isEmpty()) {
      paragraph("The readings were taken elsewhere; their file states no instruments.");
      return;
    }
    certified(used.stream().filter(i -> i.certificate().isPresent()).toList());
    String others =
        used.stream()
            .filter(i -> i.certificate().isEmpty())
            .map(i -> i.name() + " (" + i.roles() + ")")
            .collect(Collectors.joining(", "));
    List<String> said = new ArrayList<>();
    if (used.stream().anyMatch(i -> i.certificate().isPresent())) {
      said.add("Values are traceable as far as these certificates are.");
    }
    if (!others.isEmpty()) {
      said.add("Without a certificate: " + others + ".");
    }
    said.addAll(OverdueInstruments.of(run));
    paragraph(String.join(" ", said));
  }

  private void certified(List<InstrumentEntry> certified) {
    if (certified.isEmpty()) {
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            out,
            "",
            HtmlTable.Column.words("Does"),
            HtmlTable.Column.words("Identity, as it replied"),
            HtmlTable.Column.words("Certificate"),
            HtmlTable.Column.words("Calibrated"),
            HtmlTable.Column.words("Due"));
    for (InstrumentEntry i : certified) {
      BatchRecordSection.certified(table, BatchRecordSection.cells(i));
      table.end();
    }
    table.close();
  }

  private void remarks() {
    List<String> said = RunRemarkWords.of(assessment, run);
    if (!said.isEmpty()) {
      section("Remarks");
      out.line().open("ul");
      said.forEach(s -> out.element("li", s));
      out.close();
    }
  }

  private void origin() {
    DocumentParts.digest(out, assessment, run);
    RunSummary summary = assessment.run();
    out.line()
        .element(
            "p",
            "\u2018millrace show "
                + summary.uuid()
                + " --verify\u2019 computes them again. Written by Millrace "
                + summary.start().millrace()
                + ".",
            "class",
            "digest");
  }
}
