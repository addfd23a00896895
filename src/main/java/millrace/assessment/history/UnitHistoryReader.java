// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.RangeHistory.Visit;
import millrace.assessment.history.UnitHistory.LookAgain;
import millrace.datasheet.Datasheet;
import millrace.datasheet.RecalibrationInterval;
import millrace.document.FileMessageText;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;

/** Reads the history of a unit (methods.md 13). Single-threaded. */
public final class UnitHistoryReader {
  private final UnitRuns runs;
  private final double coverage;

  private UnitHistoryReader(UnitRuns runs, double coverage) {
    this.runs = runs;
    this.coverage = coverage;
  }

  /**
   * The history of a unit.
   *
   * @param book the logbook; only read
   * @param unit serial number of the unit
   * @return its history
   * @throws BadInputException if the logbook has no run of such a unit
   * @throws NotAnalysableException if none of its runs can be used
   */
  public static UnitHistory of(Logbook book, String unit) {
    List<RunSummary> found = book.runs(RunFilter.ALL.ofUnit(Optional.of(unit)));
    if (found.isEmpty()) {
      throw unknown(book, unit);
    }
    UnitRuns runs = new UnitRuns(book, found);
    if (runs.all().stream().noneMatch(UnitRun::used)) {
      throw new NotAnalysableException(
          "no run of unit %s can be used: %s. 'millrace show RUN --verify' tells more."
              .formatted(
                  unit,
                  String.join(
                      "; ",
                      runs.all().stream()
                          .map(r -> "run %s: %s".formatted(r.run().id(), r.leftOut().orElse("")))
                          .toList())));
    }
    Optional<UnitRun> last = runs.all().stream().filter(UnitRun::used).reduce((a, b) -> b);
    double coverage =
        last.flatMap(runs::sheet).map(Datasheet::coverage).orElse(CoverageFactors.USUAL);
    UnitHistoryReader reader = new UnitHistoryReader(runs, coverage);
    List<RangeHistory> ranges = reader.ranges();
    return new UnitHistory(
        unit,
        runs.simulated(),
        coverage,
        runs.all(),
        ranges,
        last.flatMap(l -> reader.lookAgain(l, ranges)),
        reader.notes(ranges));
  }

  private static BadInputException unknown(Logbook book, String unit) {
    Set<String> known = new LinkedHashSet<>();
    book.runs(RunFilter.ALL).forEach(r -> known.add(r.start().unit()));
    return new BadInputException(
        new InputFault(
            FilePlace.of(book.path().toString()),
            "no run of a unit " + FileMessageText.quoted(unit),
            "the serial number of a unit that was measured",
            (FileMessageText.didYouMean(unit, known) + " 'millrace runs' lists them.").strip()));
  }

  private List<RangeHistory> ranges() {
    List<UnitRun> used = runs.all().stream().filter(UnitRun::used).toList();
    Set<String> names = new LinkedHashSet<>();
    for (int i = used.size() - 1; i >= 0; i--) {
      runs.results(used.get(i)).stream()
          .filter(UnitHistoryReader::atReference)
          .forEach(r -> names.add(r.range().orElseThrow()));
    }
    return names.stream().map(name -> range(name, used)).toList();
  }

  /** The current error at the reference condition, which no limit's worst condition moves. */
  private static boolean atReference(Result r) {
    return r.quantity() == ResultQuantity.CURRENT_ERROR
        && r.range().isPresent()
        && r.judgement().isEmpty()
        && r.outcome() instanceof ComputationOutcome.Value;
  }

  private RangeHistory range(String name, List<UnitRun> used) {
    List<UnitRun> at = new ArrayList<>();
    List<Result> results = new ArrayList<>();
    for (UnitRun run : used) {
      runs.results(run).stream()
          .filter(UnitHistoryReader::atReference)
          .filter(r -> r.range().equals(Optional.of(name)))
          .findFirst()
          .ifPresent(
              r -> {
                at.add(run);
                results.add(r);
              });
    }
    List<Visit> visits = new ArrayList<>();
    for (int i = 0; i < at.size(); i++) {
      ComputationOutcome.Value value = (ComputationOutcome.Value) results.get(i).outcome();
      Optional<String> apart = apart(name, i, at, results);
      visits.add(new Visit(at.get(i), at.get(i).days(), value.value(), value.uncertainty(), apart));
    }
    return new RangeDrift(runs, coverage, visits, results).history(name);
  }

  /** Why a visit does not stand in one line with the last one. */
  private Optional<String> apart(String range, int i, List<UnitRun> at, List<Result> results) {
    int last = at.size() - 1;
    Optional<String> work = workBetween(at.get(i), at.get(last));
    if (work.isPresent()) {
      return work;
    }
    Optional<Double> nominal = nominal(range, at.get(i));
    Optional<Double> today = nominal(range, at.get(last));
    if (nominal.isPresent() && today.isPresent() && !nominal.equals(today)) {
      return Optional.of("another nominal current of the range");
    }
    if (!Measurand.of(results.get(i)).equals(Measurand.of(results.get(last)))) {
      return Optional.of("stated at another load or voltage");
    }
    ComputationOutcome.Value value = (ComputationOutcome.Value) results.get(i).outcome();
    return value.uncertainty().isEmpty() ? Optional.of("states no uncertainty") : Optional.empty();
  }

  private static boolean imported(UnitRun run) {
    return run.used() && run.run().start().origin() == RunOrigin.IMPORTED;
  }

  private Optional<Double> nominal(String range, UnitRun run) {
    return runs.sheet(run).flatMap(s -> s.range(range)).map(Datasheet.Range::nominalA);
  }

  /** The first work on the unit after one run and before another. */
  private Optional<String> workBetween(UnitRun earlier, UnitRun later) {
    List<UnitRun> all = runs.all();
    int from = all.indexOf(earlier);
    int to = all.indexOf(later);
    for (int i = from; i < to; i++) {
      Stream<String> after = all.get(i).workAfter().stream().map(UnitRun.Work::text);
      Stream<String> before = all.get(i + 1).workBefore().stream();
      Optional<String> work = Stream.concat(after, before).findFirst();
      if (work.isPresent()) {
        return Optional.of("before this: " + work.get());
      }
    }
    return Optional.empty();
  }

  private Optional<LookAgain> lookAgain(UnitRun last, List<RangeHistory> ranges) {
    List<LookAgain> all = new ArrayList<>(due(last).stream().toList());
    for (RangeHistory range : ranges) {
      for (Forecast forecast : range.forecasts()) {
        all.add(by(range, forecast));
      }
    }
    return all.stream()
        .min(Comparator.comparing(LookAgain::by))
        .map(l -> new LookAgain(l.by(), l.why(), within(l.by(), ranges)));
  }

  private static LookAgain by(RangeHistory range, Forecast forecast) {
    LocalDate last = LocalDate.ofEpochDay((long) Math.floor(range.last().day()));
    LocalDate by = forecast.sureUntil().orElse(last);
    if (forecast.sureUntil().isEmpty()) {
      String doubt = "range %s is within its limits with less than 95 %% already";
      return new LookAgain(by, doubt.formatted(range.range()), OptionalDouble.empty());
    }
    String why =
        by.isBefore(forecast.reach())
            ? "up to then range %s is within its limits with a probability of 95 %%"
                .formatted(range.range())
            : "no forecast goes farther ahead than the visits lie apart";
    return new LookAgain(by, why, OptionalDouble.empty());
  }

  /** The end of the interval of the datasheet, after a test that was passed. */
  private Optional<LookAgain> due(UnitRun last) {
    boolean passed =
        UnitHistory.workSince(runs.all()).isEmpty()
            && !last.limits().isEmpty()
            && last.limits().stream()
                .allMatch(c -> c == Conformity.PASS || c == Conformity.CONDITIONAL_PASS);
    Optional<RecalibrationInterval> interval =
        runs.sheet(last).flatMap(Datasheet::recalibrate).filter(i -> passed);
    return interval.map(
        i ->
            new LookAgain(
                i.after(tested(last.run())),
                "the datasheet says 'recalibrate'",
                OptionalDouble.empty()));
  }

  /** The last day of a test, as a label states it; an import ends when it is imported. */
  private static LocalDate tested(RunSummary run) {
    Instant begun = run.start().startedAt();
    boolean imported = run.start().origin() == RunOrigin.IMPORTED;
    return (imported ? begun : run.endedAt().orElse(begun))
        .atOffset(run.start().offset())
        .toLocalDate();
  }

  /** The chance that all limits are met, at least: what each misses is added (Bonferroni). */
  private static OptionalDouble within(LocalDate day, List<RangeHistory> ranges) {
    List<Forecast> all = ranges.stream().flatMap(r -> r.forecasts().stream()).toList();
    return all.isEmpty()
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            Math.max(0, 1 - all.stream().mapToDouble(f -> 1 - f.within(day)).sum()));
  }

  private List<String> notes(List<RangeHistory> ranges) {
    List<String> notes = new ArrayList<>();
    boolean drifts = ranges.stream().anyMatch(r -> r.drift().isPresent());
    if (!ranges.isEmpty()) {
      notes.add(
          "Compared is the current error at one and the same condition, the reference condition of"
              + " the last visit, so that a changed limit or datasheet moves nothing.");
    }
    if (drifts) {
      notes.add(
          "The drift is taken as a straight line. Ageing commonly slows down, so that a line looks"
              + " again rather too early (common practice, no source).");
    }
    if (drifts && runs.all().stream().anyMatch(UnitHistoryReader::imported)) {
      notes.add(
          "Whether imported readings of several files share the error of one certificate is not"
              + " known: it is taken as new at each visit for the drift, and as the same one for"
              + " the current error ahead, whichever is larger.");
    }
    if (ranges.stream().flatMap(r -> r.drift().stream()).anyMatch(d -> d.sameInstruments())) {
      notes.add(
          "All visits used the same instruments with the same certificates: their common error"
              + " cancels in the drift and stays in the current error. A drift of these instruments"
              + " since would look like one of the unit.");
    }
    return notes;
  }
}
