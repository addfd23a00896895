// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Origin;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.quantity.Numbers;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;
import millrace.report.words.AtWords;
import millrace.report.words.Figures;
import millrace.report.words.Margin;
import millrace.report.words.RepairHint;
import millrace.report.words.StillToMeasure;
import millrace.report.words.Verdict;

/** The first page: which unit, what came out, what came nearest to its limit, where to look. */
final class SummarySection {
  private static final int FEW = 8;
  private static final int NEAREST = 3;

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
    sheet.title("Test report of unit " + sheet.start().unit());
    sheet.out().close();
    summary.verdict();
    sheet.out().line().open("header");
    summary.facts();
    sheet.out().close();
  }

  private void facts() {
    RunSummary run = assessment.run();
    RunStart start = run.start();
    Sheet.Facts facts = sheet.facts().kind().fact("Sequence", start.title()).run();
    facts.fact("Origin", origin(start));
    if (start.origin() == Origin.IMPORTED) {
      facts.fact("Measured", sheet.measured());
    } else {
      facts.fact("Began", sheet.local(start.startedAt()));
      facts.fact("Ended", run.endedAt().map(sheet::local).orElse("not ended"));
    }
    JudgedBy.facts(sheet, facts);
    start.people().operator().ifPresent(o -> facts.fact("Operator", o));
    start.people().batch().ifPresent(b -> facts.fact("Batch", b));
    start.people().tag().ifPresent(t -> facts.fact("Tag", t));
    facts.fact(
        "Reference temperature", Numbers.fixed(assessment.basis().referenceDegC(), 1) + " \u00b0C");
    facts.fact("Written by", "Millrace " + start.millrace()).end();
  }

  private static String origin(RunStart start) {
    return switch (start.origin()) {
      case BENCH -> "real instruments on a bench";
      case IMPORTED ->
          "readings taken elsewhere, imported"
              + fact(start, RunStart.IMPORTED_ON).map(day -> " on " + day).orElse("")
              + fact(start, RunStart.BENCH).map(bench -> "; bench: " + bench).orElse("");
      case SIMULATED ->
          "SIMULATED bench and unit" + start.simulation().map(s -> ", seed " + s.seed()).orElse("");
    };
  }

  private static Optional<String> fact(RunStart start, String name) {
    return Optional.ofNullable(start.facts().get(name));
  }

  private void verdict() {
    Verdict verdict = Verdict.of(assessment.results());
    out.line()
        .open("section", "class", "verdict")
        .open("h2")
        .text("Outcome: " + verdict.word())
        .close()
        .element("p", verdict.sentence());
    sheet
        .diagnosis()
        .flatMap(RepairHint::of)
        .ifPresent(hint -> sheet.paragraph("Where to look first: " + hint + "."));
    List<String> said = new ArrayList<>(extremes());
    said.addAll(stillToMeasure());
    said.addAll(reservations());
    int shown = Math.min(said.size(), FEW);
    sheet.list(said.subList(0, shown));
    if (shown < said.size()) {
      sheet.paragraph(Numbers.counted(said.size() - shown, "more note") + ": see Notes below.");
    }
    out.close();
  }

  /** All that is said of the run as a whole, where the first page had no room for it. */
  static void notes(Sheet sheet) {
    SummarySection summary = new SummarySection(sheet);
    List<String> said = new ArrayList<>(summary.extremes());
    said.addAll(summary.stillToMeasure());
    said.addAll(summary.reservations());
    if (said.size() > FEW) {
      sheet.folded("Notes", "notes-of-run", Numbers.counted(said.size(), "note"));
      sheet.list(said).endFolded();
    }
  }

  private List<String> stillToMeasure() {
    return StillToMeasure.of(assessment.results()).stream()
        .map(order -> "Not evaluated: " + Symbols.of(order) + ".")
        .toList();
  }

  /** The limits that were not met, by name; if all were, those that were met most narrowly. */
  private List<String> extremes() {
    List<Result> judged =
        assessment.results().stream()
            .filter(r -> r.judgement().isPresent() && r.outcome() instanceof Outcome.Value)
            .sorted(Margin.worstFirst())
            .toList();
    List<Result> unmet =
        judged.stream().filter(r -> unmet(r.judgement().orElseThrow().conformity())).toList();
    String head = unmet.isEmpty() ? "Nearest to its limit: " : "Not met: ";
    List<String> all =
        new ArrayList<>(
            (unmet.isEmpty() ? judged : unmet)
                .stream().limit(NEAREST).map(r -> head + inOneLine(r)).toList());
    if (unmet.size() > NEAREST) {
      all.add((unmet.size() - NEAREST) + " more limits are not met; see the table.");
    }
    return all;
  }

  private static boolean unmet(Conformity conformity) {
    return conformity == Conformity.FAIL || conformity == Conformity.CONDITIONAL_FAIL;
  }

  private static String inOneLine(Result r) {
    Judgement j = r.judgement().orElseThrow();
    String range = r.range().map(n -> " of range " + n).orElse("");
    String at = AtWords.of(r.at());
    String margin = Margin.inWords(r);
    return r.quantity().inWords()
        + range
        + (at.isEmpty() ? "" : " (" + Symbols.of(at) + ")")
        + " "
        + Symbols.of(Figures.inWords(r))
        + "; allowed: "
        + Symbols.of(Figures.limit(j.limit(), r.quantity().unit()))
        + (margin.isEmpty() ? "." : ", " + margin + ".");
  }

  /** What keeps the outcome from being the whole truth. */
  private List<String> reservations() {
    List<String> said = new ArrayList<>();
    RunSummary run = assessment.run();
    if (run.state() != RunState.COMPLETE) {
      String why = run.remark().isBlank() ? "" : ": " + run.remark();
      said.add("This run is " + run.state().text() + why + ".");
    }
    Assessment.PointCounts points = assessment.points();
    if (!points.whole()) {
      said.add(
          "Of its points, %s are complete, %s flagged and %s skipped."
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
}
