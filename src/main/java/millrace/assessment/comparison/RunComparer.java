// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.analysis.batch.Yield;
import millrace.analysis.causes.Cause;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.assessment.Assessor;
import millrace.assessment.RunCauseDiagnosis;
import millrace.assessment.basis.SharedRunInputs;
import millrace.assessment.comparison.Comparison.Blamed;
import millrace.assessment.comparison.Comparison.CauseCount;
import millrace.datasheet.Datasheet;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;

/** Compares runs with their limits and with one another (methods.md 8). Stateless. */
public final class RunComparer {
  private RunComparer() {}

  /**
   * Compares.
   *
   * @param book the logbook of the runs; only read
   * @param runs the runs, in any order
   * @param named true if a person named each run, false if a search found them
   * @param own the user's own factors of the units
   * @return the comparison
   * @throws millrace.fault.BadInputException if none can be compared, or a named run is simulated
   *     and another is real
   */
  public static Comparison of(Logbook book, List<RunSummary> runs, boolean named, UnitFactors own) {
    return book.unchanging(() -> compared(book, runs, named, own));
  }

  private static Comparison compared(
      Logbook book, List<RunSummary> runs, boolean named, UnitFactors own) {
    ComparableRunSelection selection = ComparableRunSelection.of(book, runs, named);
    ToleranceFactors factors = new ToleranceFactors();
    factors.ahead(selection.kept().stream().map(r -> r.start().unit()).distinct().count());
    ComparedResultReader sampling = new ComparedResultReader(book, own);
    List<ComparedRun> compared = sampling.of(selection.kept());
    double coverage = sampling.sheet().map(Datasheet::coverage).orElse(CoverageFactors.USUAL);
    List<BatchDistribution> distributions = BatchDistributions.of(compared, coverage, factors);
    GroupDifferences grouped =
        new GroupDifferences(compared, distributions, own.withThoseOfRuns(), coverage);
    GaugeStudyOfRuns gauges = new GaugeStudyOfRuns(coverage);
    List<Comparison.Gauge> studies = gauges.of(compared);
    List<String> notes = new ArrayList<>(selection.notes());
    notes.addAll(sampling.notes());
    notes.addAll(gauges.notes());
    own.silentOf(compared.stream().map(ComparedRun::unit).distinct().toList())
        .ifPresent(notes::add);
    return new Comparison(
        selection.kept().get(0).start().simulation().isPresent(),
        compared,
        yields(compared, sampling.sheet().map(Datasheet::retests).orElse(0), coverage),
        distributions,
        new BatchUnitDrifts(book, coverage).of(compared),
        grouped.contrasts(),
        grouped.trends(),
        studies,
        SetUpReproducibility.of(compared, book),
        List.of(),
        coverage,
        notes);
  }

  /**
   * Tells whether instrument errors are the same in two runs, so that they cancel in the
   * difference.
   *
   * @param book where the runs are; only read
   * @param a a run
   * @param b another
   * @return true if both used the same instruments with the same certificates in the same set-up
   */
  public static boolean sameInstruments(Logbook book, RunSummary a, RunSummary b) {
    return SharedInstrumentErrors.of(book, a, b);
  }

  /**
   * Tells whether two runs used the same instruments with the same certificates, whatever the
   * connection of the unit.
   *
   * @param book where the runs are; only read
   * @param a a run
   * @param b another
   * @return true if an instrument's own error is the same in both
   */
  public static boolean sameInstrumentsInAnySetUp(Logbook book, RunSummary a, RunSummary b) {
    return SharedInstrumentErrors.inAnySetUp(book, a, b);
  }

  /**
   * Finds the likeliest cause of each unit that failed its first test (methods.md 9). Each unit is
   * assessed from its readings, which takes time.
   *
   * @param book where the runs are; only read
   * @param comparison the comparison
   * @return the comparison with its causes
   */
  public static Comparison withCauses(Logbook book, Comparison comparison) {
    return book.unchanging(() -> comparison.with(causes(book, comparison)));
  }

  private static List<CauseCount> causes(Logbook book, Comparison comparison) {
    Map<String, List<Blamed>> boards = new LinkedHashMap<>();
    SharedRunInputs shared = new SharedRunInputs();
    for (ComparedRun test : comparison.runs()) {
      if (test.first() && test.failed()) {
        Blamed blamed =
            new Blamed(
                test, RunCauseDiagnosis.of(Assessor.assess(book.reader(test.run().id()), shared)));
        boards.computeIfAbsent(name(blamed), c -> new ArrayList<>()).add(blamed);
      }
    }
    return boards.entrySet().stream()
        .map(e -> new CauseCount(e.getKey(), part(e.getValue()), e.getValue()))
        .sorted((a, b) -> Integer.compare(b.units(), a.units()))
        .toList();
  }

  private static String name(Blamed blamed) {
    return blamed.cause().map(Cause::name).orElse("cannot be told without the parts of the ranges");
  }

  private static Optional<String> part(List<Blamed> alike) {
    return alike.get(0).cause().flatMap(Cause::of);
  }

  private static String batch(ComparedRun run) {
    return run.run().start().people().batch().orElse("no batch");
  }

  private static Map<String, Yield> yields(List<ComparedRun> runs, int retests, double coverage) {
    Map<String, List<Yield.Attempt>> attempts = new LinkedHashMap<>();
    for (ComparedRun run : runs) {
      if (run.conformity().isPresent()) {
        Yield.Attempt attempt = new Yield.Attempt(run.unit(), run.passed(), run.cause());
        attempts.computeIfAbsent(Comparison.ALL, b -> new ArrayList<>()).add(attempt);
        attempts.computeIfAbsent(batch(run), b -> new ArrayList<>()).add(attempt);
      }
    }
    Map<String, Yield> yields = new TreeMap<>();
    attempts.forEach((batch, all) -> yields.put(batch, Yield.of(all, retests, coverage)));
    return yields;
  }
}
