// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.fault.NotAnalysableException;
import millrace.logbook.FileRole;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.logbook.RunVerification;
import millrace.quantity.NumberText;

/**
 * The runs of one unit in the order of time: which are used, with their results, and what was done
 * to the unit between them. Single-threaded.
 */
final class UnitRuns {
  private final Logbook book;
  private final boolean simulated;
  private final List<UnitRun> all = new ArrayList<>();
  private final Map<Long, List<Result>> results = new HashMap<>();
  private final Map<Long, Datasheet> sheets = new HashMap<>();
  private final Map<Long, Optional<Assessment>> assessments = new HashMap<>();

  /** The run before, that is used. */
  private Optional<RunReader> before = Optional.empty();

  UnitRuns(Logbook book, List<RunSummary> runs) {
    this.book = book;
    this.simulated = runs.stream().allMatch(UnitRuns::simulated);
    runs.stream()
        .sorted(
            Comparator.comparing((RunSummary r) -> r.start().startedAt())
                .thenComparing(RunSummary::id))
        .forEach(r -> all.add(run(r)));
  }

  Logbook book() {
    return book;
  }

  boolean simulated() {
    return simulated;
  }

  List<UnitRun> all() {
    return all;
  }

  List<Result> results(UnitRun run) {
    return results.getOrDefault(run.run().id(), List.of());
  }

  Optional<Datasheet> sheet(UnitRun run) {
    return Optional.ofNullable(sheets.get(run.run().id()));
  }

  /** The run computed anew, with the response of the unit; empty if nothing can be computed. */
  Optional<Assessment> assessed(UnitRun run) {
    return assessments.computeIfAbsent(
        run.run().id(),
        id -> {
          try {
            return Optional.of(Assessor.assess(book.reader(id)));
          } catch (NotAnalysableException e) {
            return Optional.empty();
          }
        });
  }

  private static boolean simulated(RunSummary run) {
    return run.start().origin() == RunOrigin.SIMULATED;
  }

  private UnitRun run(RunSummary run) {
    RunReader reader = book.reader(run.id());
    List<Remark> remarks = reader.remarks();
    Optional<String> out = leftOut(run, remarks);
    List<Result> found = out.isPresent() ? List.of() : found(reader);
    if (out.isEmpty() && found.isEmpty()) {
      out = Optional.of("nothing can be computed of it");
    }
    List<String> notes = List.of();
    if (out.isEmpty()) {
      results.put(run.id(), found);
      Optional<Datasheet> sheet = sheet(reader);
      sheet.ifPresent(s -> sheets.put(run.id(), s));
      notes = Stream.concat(doubtful(reader), changes(reader)).toList();
      before = Optional.of(reader);
    }
    return new UnitRun(
        run,
        found.stream().flatMap(r -> r.judgement().stream()).map(Judgement::conformity).toList(),
        out,
        notes,
        run.start().facts().retestCause(),
        remarks.stream()
            .filter(r -> r.kind() == RemarkKind.REPAIR)
            .map(r -> new UnitRun.Work(r.text(), r.writtenAt()))
            .toList());
  }

  private Optional<String> leftOut(RunSummary run, List<Remark> remarks) {
    if (simulated(run) && !simulated) {
      return Optional.of("simulated: it never stands among real runs");
    }
    if (run.state() != RunState.COMPLETE) {
      return Optional.of("it did not end");
    }
    if (withdrawn(remarks)) {
      return Optional.of("'do not use' was said of it");
    }
    if (run.start().measuredAt().isEmpty()) {
      return Optional.of("its file of readings does not state when they were taken");
    }
    RunVerification found = book.verify(run.id());
    return found.sound()
        ? Optional.empty()
        : Optional.of(
            "it is NOT verified"
                + found.faults().stream().findFirst().map(f -> ": " + f).orElse(""));
  }

  private static boolean withdrawn(List<Remark> remarks) {
    return remarks.stream()
        .filter(r -> r.point().isEmpty() && r.kind().decidesUse())
        .reduce((a, b) -> b)
        .filter(r -> r.kind() == RemarkKind.DO_NOT_USE)
        .isPresent();
  }

  /** The results as judged last, or as computed now. */
  private List<Result> found(RunReader reader) {
    Optional<RunEvaluation> last = evaluation(reader);
    if (last.isPresent()) {
      return reader.results(last.get());
    }
    try {
      Assessment assessment = Assessor.assess(reader);
      assessments.put(reader.summary().id(), Optional.of(assessment));
      return assessment.results();
    } catch (NotAnalysableException e) {
      return List.of();
    }
  }

  private static Optional<RunEvaluation> evaluation(RunReader reader) {
    return reader.evaluations().stream().reduce((a, b) -> b);
  }

  private static Optional<String> sheetHash(RunReader reader) {
    return evaluation(reader)
        .flatMap(RunEvaluation::datasheetSha256)
        .or(
            () ->
                reader.files().stream()
                    .filter(f -> f.role() == FileRole.DATASHEET)
                    .reduce((a, b) -> b)
                    .map(RunInputFile::sha256));
  }

  private static Optional<Datasheet> sheet(RunReader reader) {
    return sheetHash(reader).map(h -> DatasheetFile.read("kept datasheet", reader.content(h)));
  }

  private static Stream<String> doubtful(RunReader reader) {
    long points = reader.doubtfulPoints();
    return points == 0
        ? Stream.empty()
        : Stream.of(NumberText.counted(points, "point") + " flagged or missing");
  }

  /** What differs from the run before, so that nobody compares unlike things unawares. */
  private Stream<String> changes(RunReader now) {
    if (before.isEmpty()) {
      return Stream.empty();
    }
    RunReader earlier = before.get();
    String than = " than in run " + earlier.summary().id();
    List<String> changes = new ArrayList<>();
    if (!sheetHash(now).equals(sheetHash(earlier))) {
      changes.add("another datasheet" + than);
    }
    if (!now.summary().setUp().equals(earlier.summary().setUp())) {
      changes.add("another set-up" + than);
    }
    Map<String, InstrumentEntry> old = instruments(earlier);
    instruments(now)
        .forEach(
            (role, entry) -> {
              InstrumentEntry was = old.get(role);
              if (was == null || !was.identity().equals(entry.identity())) {
                changes.add(
                    "%s is another instrument or has other firmware%s".formatted(role, than));
              } else if (!was.certificate().equals(entry.certificate())) {
                changes.add("%s has another certificate%s".formatted(role, than));
              }
            });
    return changes.stream();
  }

  private static Map<String, InstrumentEntry> instruments(RunReader reader) {
    Map<String, InstrumentEntry> instruments = new LinkedHashMap<>();
    reader.instruments().forEach(e -> instruments.put(e.roles(), e));
    return instruments;
  }
}
