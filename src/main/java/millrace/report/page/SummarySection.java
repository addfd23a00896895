// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.MissingMeasurements;
import millrace.report.words.OverallVerdict;
import millrace.report.words.OverdueInstruments;
import millrace.report.words.RepairHint;
import millrace.report.words.ResultWords;
import millrace.report.words.RunVerdictText;

/** First page: the unit, the outcome, the reason, the next steps, and cautions. */
final class SummarySection {
  private static final int FEW = 5;
  private static final int MOST_UNMET = 8;
  private static final int NEAREST = 3;
  private static final String NOTES = "notes-of-run";

  private final ReportContext sheet;
  private final Markup out;
  private final Assessment assessment;

  private SummarySection(ReportContext sheet) {
    this.sheet = sheet;
    this.out = sheet.out();
    this.assessment = sheet.assessment();
  }

  static void write(ReportContext sheet, Optional<String> annexTo) {
    SummarySection summary = new SummarySection(sheet);
    sheet.out().line().open("header");
    sheet.title(
        "Test report of unit " + sheet.start().unit() + ", run " + sheet.assessment().run().id());
    annexTo.ifPresent(n -> sheet.out().element("p", "Annex to certificate No. " + n));
    sheet.out().close();
    summary.verdict();
    CautionSection.write(sheet);
    summary.facts();
    summary.contents();
  }

  private void contents() {
    out.line().open("nav", "class", "contents", "aria-label", "Contents").element("h2", "Contents");
    out.open("ol");
    for (ReportContext.Entry entry : sheet.contents()) {
      out.open("li");
      sheet.link(entry.heading(), entry.name());
      out.close();
    }
    out.close().close();
  }

  private void facts() {
    RunSummary run = assessment.run();
    RunStart start = run.start();
    ReportContext.Facts facts = sheet.facts().kind().fact("Sequence", start.title()).run();
    facts.fact("Origin", origin(start));
    if (start.origin() == RunOrigin.IMPORTED) {
      facts.fact("Measured", sheet.measured());
    } else {
      facts.fact("Began", sheet.local(start.startedAt()));
      facts.fact("Ended", run.endedAt().map(sheet::local).orElse("not ended"));
    }
    JudgementFileList.facts(sheet, facts, false);
    start.people().operator().ifPresent(o -> facts.fact("Operator", o));
    start.people().batch().ifPresent(b -> facts.fact("Batch", b));
    start.people().tag().ifPresent(t -> facts.fact("Tag", t));
    facts.fact(
        "Reference temperature",
        NumberText.fixed(assessment.basis().referenceDegC(), 1) + " \u00b0C");
    facts.fact("Written by", "Millrace " + start.millrace()).end();
  }

  private static String origin(RunStart start) {
    return switch (start.origin()) {
      case BENCH -> "real instruments on a bench";
      case IMPORTED ->
          "readings taken elsewhere, imported"
              + start.facts().importedOn().map(day -> " on " + day).orElse("")
              + start.facts().bench().map(bench -> "; bench: " + bench).orElse("");
      case SIMULATED ->
          "SIMULATED bench and unit" + start.simulation().map(s -> ", seed " + s.seed()).orElse("");
    };
  }

  private void verdict() {
    OverallVerdict verdict = OverallVerdict.of(assessment);
    RunVerdictText answer = new RunVerdictText(assessment);
    out.line()
        .open("section", "class", "verdict")
        .element("h2", "Outcome: " + verdict.word())
        .element("p", verdict.sentence());
    List<Result> unmet = answer.unmet();
    results("Not met", unmet, MOST_UNMET);
    if (!unmet.isEmpty()) {
      sheet
          .diagnosis()
          .flatMap(RepairHint::of)
          .ifPresent(
              hint -> sheet.paragraph("Where to look first: " + PrintedUnitSymbols.of(hint) + "."));
    }
    some("Not evaluated; what would have to be measured", stillToMeasure());
    results("Met, nearest to its limit", answer.nearest(), NEAREST);
    some("What to bear in mind", reservations());
    out.close();
  }

  /** Writes results with links to their rows below. */
  private void results(String heading, List<Result> results, int most) {
    if (results.isEmpty()) {
      return;
    }
    sheet.heading(heading).out().line().open("ul");
    for (Result r : results.subList(0, Math.min(results.size(), most))) {
      out.open("li");
      String name = ResultWords.name(r);
      sheet.link(name, "r" + sheet.number(r));
      out.text(
          PrintedUnitSymbols.of(ResultWords.inFull(r))
                  .substring(PrintedUnitSymbols.of(name).length())
              + ".");
      out.close();
    }
    if (results.size() > most && heading.startsWith("Not")) {
      out.open("li").text((results.size() - most) + " more: ");
      sheet.link("all limits, the worst first", LimitsSection.NAME);
      out.close();
    }
    out.close();
  }

  /** Writes as many sentences as fit the first page; the notes have the rest. */
  private void some(String heading, List<String> said) {
    if (said.isEmpty()) {
      return;
    }
    sheet.heading(heading).list(said.subList(0, Math.min(said.size(), FEW)));
    if (said.size() > FEW) {
      out.open("p").text(NumberText.counted(said.size() - FEW, "more note") + ": see ");
      sheet.link("Notes", NOTES);
      out.text(".").close();
    }
  }

  /** Writes all remarks on the whole run, if the first page has no room for them. */
  static void notes(ReportContext sheet) {
    SummarySection summary = new SummarySection(sheet);
    List<String> open = summary.stillToMeasure();
    List<String> said = summary.reservations();
    if (open.size() > FEW || said.size() > FEW) {
      sheet.folded("Notes", NOTES, NumberText.counted(open.size() + said.size(), "note"));
      sheet.list(open).list(said).endFolded();
    }
  }

  private List<String> stillToMeasure() {
    return MissingMeasurements.of(assessment.results()).stream()
        .map(order -> sentence(PrintedUnitSymbols.of(order)))
        .toList();
  }

  private static String sentence(String words) {
    String capital = words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    return capital.endsWith(".") ? capital : capital + ".";
  }

  /** Reservations about the outcome. */
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
        assessment.results().stream()
            .filter(r -> r.outcome() instanceof ComputationOutcome.Missing)
            .count();
    if (missing > 0) {
      said.add(
          NumberText.counted(missing, "result")
              + " could not be computed; each says why among all results.");
    }
    said.addAll(OverdueInstruments.of(sheet.run()));
    assessment.notes().forEach(note -> said.add(sentence(note)));
    return said;
  }
}
