// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.assessment.basis.SharedRunInputs;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.logbook.JudgedRun;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/** Reads the results of runs; runs without a judgement are judged now. */
final class ComparedResultReader {
  /** Runs that are read while others are computed, for each processor. */
  private static final int AHEAD = 4;

  /** Runs whose judgings are in memory before they are compared. */
  private static final int AT_ONCE = 500;

  private static final String KEPT_DATASHEET = "kept datasheet";

  private final Logbook book;
  private final RunGrouping grouping;
  private final SharedRunInputs shared = new SharedRunInputs();
  private final Map<String, Datasheet> sheets = new LinkedHashMap<>();
  private final SmallResults small = new SmallResults();
  private final Set<String> seen = new HashSet<>();
  private final List<String> notes = new ArrayList<>();

  ComparedResultReader(Logbook book, UnitFactors own) {
    this.book = book;
    this.grouping = new RunGrouping(own);
  }

  List<ComparedRun> of(List<RunSummary> runs) {
    List<ComparedRun> all = new ArrayList<>();
    JudgedRunReader reader = new JudgedRunReader(book);
    int ahead = AHEAD * Runtime.getRuntime().availableProcessors();
    try (RunJudgings judgings = new RunJudgings(book, shared, measuredAgain(runs))) {
      Deque<RunJudgings.Pending> pending = new ArrayDeque<>();
      for (int i = 0; i < runs.size(); i += AT_ONCE) {
        for (JudgedRun run : reader.of(runs.subList(i, Math.min(runs.size(), i + AT_ONCE)))) {
          judged(run);
          pending.add(judgings.of(run));
          if (pending.size() > (isJudged(pending.element()) ? AT_ONCE : ahead)) {
            add(pending.remove(), all);
          }
        }
      }
      pending.forEach(p -> add(p, all));
    }
    if (sheets.size() > 1) {
      notes.add(
          "the runs were judged by %s different datasheets; the last judging of each counts"
              .formatted(sheets.size()));
    }
    return all;
  }

  /** The datasheet of a run that was judged is not needed before the run is compared. */
  private void judged(JudgedRun run) {
    if (run.judging().isPresent() && run.datasheetSha256().isPresent()) {
      RunReader reader = book.reader(run.run().id());
      shared.datasheetAhead(reader, KEPT_DATASHEET, run.datasheetSha256().get());
    }
  }

  /** Its results are in memory, whether it is compared now or later. */
  private static boolean isJudged(RunJudgings.Pending pending) {
    return pending.run().judging().isPresent();
  }

  private static Set<String> measuredAgain(List<RunSummary> runs) {
    Set<String> once = new HashSet<>();
    return runs.stream()
        .map(r -> r.start().unit())
        .filter(unit -> !once.add(unit))
        .collect(Collectors.toSet());
  }

  private void add(RunJudgings.Pending pending, List<ComparedRun> all) {
    Optional<JudgedRun.Judging> told = pending.judging();
    if (told.isPresent()) {
      all.add(compared(pending.run(), told.get()));
    } else {
      notes.add(
          "run %s is left out: nothing can be computed of it".formatted(pending.run().run().id()));
    }
  }

  List<String> notes() {
    return notes;
  }

  /** One datasheet of the runs, for what is common to all. */
  Optional<Datasheet> sheet() {
    return sheets.values().stream().findFirst();
  }

  private ComparedRun compared(JudgedRun judged, JudgedRun.Judging told) {
    RunSummary run = judged.run();
    Optional<Datasheet> sheet =
        judged.datasheetSha256().map(hash -> sheets.computeIfAbsent(hash, h -> datasheet(run, h)));
    Optional<Conformity> together = Result.together(told.results());
    boolean strict = sheet.map(Datasheet::conditionalPassFails).orElse(false);
    boolean passed =
        together.filter(c -> met(c, strict)).isPresent() && judged.doubtfulPoints() == 0;
    boolean first = seen.add(run.start().unit());
    Optional<String> bin = passed ? told.bin() : Optional.empty();
    // What was read is small already; what was computed now is not.
    List<Result> results = judged.judging().isPresent() ? told.results() : small.of(told.results());
    return new ComparedRun(run, results, together, passed, first, bin, grouping.of(judged));
  }

  private Datasheet datasheet(RunSummary run, String hash) {
    return shared.datasheet(book.reader(run.id()), KEPT_DATASHEET, hash);
  }

  private static boolean met(Conformity c, boolean strict) {
    return c == Conformity.PASS || (c == Conformity.CONDITIONAL_PASS && !strict);
  }
}
