package millrace.report;

import java.util.ArrayList;
import java.util.List;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.quantity.Numbers;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;

/** The first page: which unit, what came out, and each limit with how it was met. */
final class SummarySection {
  private static final int FEW = 8;

  private final Sheet sheet;
  private final Markup out;
  private final Assessment assessment;

  private SummarySection(Sheet sheet) {
    this.sheet = sheet;
    this.out = sheet.out();
    this.assessment = sheet.assessment();
  }

  static void write(Sheet sheet) {
    SummarySection summary = new SummarySection(sheet);
    sheet.out().line().open("header");
    summary.title();
    summary.facts();
    sheet.out().close();
    summary.verdict();
    summary.conformity();
  }

  private void title() {
    out.open("h1").text("Test report of unit " + sheet.start().unit());
    sheet.stamp().ifPresent(s -> out.text(" ").element("span", s, "class", "stamp"));
    out.close();
  }

  private void facts() {
    RunSummary run = assessment.run();
    RunStart start = run.start();
    out.line().open("dl", "class", "facts");
    fact(
        "Kind of unit", assessment.basis().datasheet().map(Datasheet::name).orElse("no datasheet"));
    fact("Sequence", start.title());
    fact("Run", run.id() + " (" + run.uuid() + ")");
    fact("Origin", origin(start));
    fact("Began", sheet.local(start.startedAt()));
    fact("Ended", run.endedAt().map(sheet::local).orElse("not ended"));
    start.people().operator().ifPresent(o -> fact("Operator", o));
    start.people().batch().ifPresent(b -> fact("Batch", b));
    start.people().tag().ifPresent(t -> fact("Tag", t));
    fact(
        "Reference temperature", Numbers.fixed(assessment.basis().referenceDegC(), 1) + " \u00b0C");
    fact("Written by", "Millrace " + start.millrace());
    out.close();
  }

  private void fact(String name, String value) {
    out.open("div").element("dt", name).element("dd", value).close();
  }

  private static String origin(RunStart start) {
    return switch (start.origin()) {
      case BENCH -> "real instruments on a bench";
      case IMPORTED -> "readings taken elsewhere, imported";
      case SIMULATED ->
          "SIMULATED bench and unit" + start.simulation().map(s -> ", seed " + s.seed()).orElse("");
    };
  }

  private void verdict() {
    Verdict verdict = Verdict.of(assessment.results());
    out.line()
        .open("section", "class", "verdict")
        .open("h2")
        .text("Outcome: " + verdict.word())
        .close()
        .element("p", verdict.sentence());
    sheet.list(reservations());
    out.close();
  }

  /** The limits that were not met, by name: the first few. */
  private List<String> notMet() {
    List<String> all =
        assessment.results().stream()
            .filter(r -> r.judgement().filter(j -> unmet(j.conformity())).isPresent())
            .map(SummarySection::inOneLine)
            .toList();
    List<String> some = new ArrayList<>(all.subList(0, Math.min(FEW, all.size())));
    if (all.size() > FEW) {
      some.add((all.size() - FEW) + " more limits are not met; see the table.");
    }
    return some;
  }

  private static boolean unmet(Conformity conformity) {
    return conformity == Conformity.FAIL || conformity == Conformity.CONDITIONAL_FAIL;
  }

  private static String inOneLine(Result r) {
    Judgement j = r.judgement().orElseThrow();
    String range = r.range().map(n -> " of range " + n).orElse("");
    return "Not met: "
        + r.quantity().inWords()
        + range
        + " is "
        + Symbols.of(Figures.inWords(r))
        + ", allowed is "
        + Symbols.of(Figures.limit(j.limit(), r.quantity().unit()))
        + ".";
  }

  /** What keeps the outcome from being the whole truth. */
  private List<String> reservations() {
    List<String> said = new ArrayList<>(notMet());
    RunSummary run = assessment.run();
    if (run.state() != RunState.COMPLETE) {
      String why = run.remark().isBlank() ? "" : ": " + run.remark();
      said.add("This run is " + run.state().text() + why + ".");
    }
    Assessment.PointCounts points = assessment.points();
    if (!points.whole()) {
      said.add(
          "Of its points, %d are complete, %d flagged and %d skipped."
              .formatted(points.complete(), points.flagged(), points.skipped()));
    }
    long missing =
        assessment.results().stream().filter(r -> r.outcome() instanceof Outcome.Missing).count();
    if (missing > 0) {
      said.add(missing + " results could not be computed; each says why in the table of results.");
    }
    said.addAll(InstrumentsSection.overdue(sheet));
    said.addAll(assessment.notes());
    return said;
  }

  private void conformity() {
    List<Result> judged =
        assessment.results().stream().filter(r -> r.judgement().isPresent()).toList();
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
            out,
            "Each result that has a limit",
            Table.Column.words("Range"),
            Table.Column.words("Quantity"),
            Table.Column.figures("Value \u00b1 U"),
            Table.Column.words("Limit"),
            Table.Column.words(sheet.simulated() ? "Picture (SIMULATED)" : "Picture"),
            Table.Column.words("Conformity"));
    judged.forEach(r -> row(table, r));
    table.close();
    sheet.end();
  }

  private static void row(Table table, Result r) {
    Judgement j = r.judgement().orElseThrow();
    table
        .begin()
        .head(r.range().orElse("all"))
        .cell(out -> quantity(out, r))
        .figures(Symbols.of(Figures.inWords(r)))
        .cell(Symbols.of(Figures.limit(j.limit(), r.quantity().unit())))
        .cell(out -> Pictures.limit(out, r))
        .cell(out -> Words.conformity(out, j.conformity()))
        .end();
  }

  private static void quantity(Markup out, Result r) {
    out.text(r.quantity().inWords());
    String at = Symbols.of(AtWords.of(r.at()));
    if (!at.isEmpty()) {
      out.element("div", at, "class", "at");
    }
  }
}
