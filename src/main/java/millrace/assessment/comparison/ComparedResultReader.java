// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.basis.SharedRunInputs;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.fault.NotAnalysableException;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/** Reads the results of runs; runs without a judgement are judged now. */
final class ComparedResultReader {
  private final Logbook book;
  private final RunGrouping grouping;
  private final SharedRunInputs shared = new SharedRunInputs();
  private final Map<String, Datasheet> sheets = new LinkedHashMap<>();
  private final Set<String> seen = new HashSet<>();
  private final List<String> notes = new ArrayList<>();

  ComparedResultReader(Logbook book, UnitFactors own) {
    this.book = book;
    this.grouping = new RunGrouping(own);
  }

  List<ComparedRun> of(List<RunSummary> runs) {
    List<ComparedRun> all = new ArrayList<>();
    for (RunSummary run : runs) {
      told(run).ifPresent(t -> all.add(compared(run, t)));
    }
    if (sheets.size() > 1) {
      notes.add(
          "the runs were judged by %s different datasheets; the last judging of each counts"
              .formatted(sheets.size()));
    }
    return all;
  }

  List<String> notes() {
    return notes;
  }

  /** One datasheet of the runs, for what is common to all. */
  Optional<Datasheet> sheet() {
    return sheets.values().stream().findFirst();
  }

  /**
   * The results of a run.
   *
   * @param results judged
   * @param bin that takes the measured values
   */
  private record Outcomes(List<Result> results, Optional<String> bin) {}

  private Optional<Outcomes> told(RunSummary run) {
    RunReader reader = book.reader(run.id());
    List<RunEvaluation> evaluations = reader.evaluations();
    if (!evaluations.isEmpty()) {
      RunEvaluation last = evaluations.get(evaluations.size() - 1);
      return Optional.of(new Outcomes(reader.resultsAlone(last), last.bin()));
    }
    try {
      Assessment assessment = Assessor.assess(reader, shared);
      return Optional.of(new Outcomes(assessment.results(), assessment.bin()));
    } catch (NotAnalysableException e) {
      notes.add("run %s is left out: nothing can be computed of it".formatted(run.id()));
      return Optional.empty();
    }
  }

  private ComparedRun compared(RunSummary run, Outcomes told) {
    RunReader reader = book.reader(run.id());
    Optional<Datasheet> sheet = sheet(reader);
    Optional<Conformity> together = Result.together(told.results());
    boolean strict = sheet.map(Datasheet::conditionalPassFails).orElse(false);
    boolean passed =
        together.filter(c -> met(c, strict)).isPresent() && reader.doubtfulPoints() == 0;
    boolean first = seen.add(run.start().unit());
    Optional<String> bin = passed ? told.bin() : Optional.empty();
    return new ComparedRun(run, told.results(), together, passed, first, bin, grouping.of(reader));
  }

  private static boolean met(Conformity c, boolean strict) {
    return c == Conformity.PASS || (c == Conformity.CONDITIONAL_PASS && !strict);
  }

  /** The datasheet that a run was judged by last. */
  private Optional<Datasheet> sheet(RunReader reader) {
    return judgedBy(reader)
        .or(() -> kept(reader))
        .map(
            hash ->
                sheets.computeIfAbsent(hash, h -> shared.datasheet(reader, "kept datasheet", h)));
  }

  private static Optional<String> judgedBy(RunReader reader) {
    return reader.evaluations().stream()
        .reduce((a, b) -> b)
        .flatMap(RunEvaluation::datasheetSha256);
  }

  private static Optional<String> kept(RunReader reader) {
    return reader.files().stream()
        .filter(f -> f.role() == FileRole.DATASHEET)
        .reduce((a, b) -> b)
        .map(RunInputFile::sha256);
  }
}
