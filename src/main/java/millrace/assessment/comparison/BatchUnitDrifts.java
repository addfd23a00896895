// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import millrace.analysis.batch.UnitDrift;
import millrace.analysis.response.BorrowedCoefficients;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.assessment.comparison.Comparison.Drift;
import millrace.evidence.BudgetComponent;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;

/**
 * The drift of units from their first run to their last (methods.md 8). Instrument errors cancel
 * only if both runs used the same instruments with the same certificates in the same set-up; on a
 * simulated bench, if the errors were drawn with the same seed. Errors of coefficients taken from
 * the unit's design or type are common to both runs.
 */
final class BatchUnitDrifts {
  private final Logbook book;
  private final double coverage;

  BatchUnitDrifts(Logbook book, double coverage) {
    this.book = book;
    this.coverage = coverage;
  }

  List<Drift> of(List<ComparedRun> runs) {
    Map<String, List<ComparedRun>> units = new LinkedHashMap<>();
    runs.forEach(r -> units.computeIfAbsent(r.unit(), u -> new ArrayList<>()).add(r));
    List<Drift> drifts = new ArrayList<>();
    units.values().stream()
        .filter(u -> u.size() > 1)
        .forEach(u -> drifts.addAll(between(u.get(0), u.get(u.size() - 1))));
    return drifts;
  }

  private List<Drift> between(ComparedRun earlier, ComparedRun later) {
    boolean alike = SharedInstrumentErrors.of(book, earlier.run(), later.run());
    Predicate<BudgetComponent> shared =
        c ->
            (alike && c.group().equals(ErrorSource.INSTRUMENT_AND_RANGE))
                || BorrowedCoefficients.staysWithTheUnit(c);
    Map<Measurand, Result> before = budgeted(earlier);
    List<Drift> drifts = new ArrayList<>();
    budgeted(later)
        .forEach(
            (what, result) ->
                Optional.ofNullable(before.get(what))
                    .flatMap(b -> UnitDrift.between(b, result, shared, coverage))
                    .ifPresent(d -> drifts.add(new Drift(earlier, later, what, d))));
    return drifts;
  }

  private Map<Measurand, Result> budgeted(ComparedRun run) {
    RunReader reader = book.reader(run.run().id());
    List<RunEvaluation> evaluations = reader.evaluations();
    List<Result> results =
        evaluations.isEmpty()
            ? run.results()
            : reader.results(evaluations.get(evaluations.size() - 1));
    Map<Measurand, Result> sorted = new LinkedHashMap<>();
    results.forEach(r -> sorted.putIfAbsent(Measurand.of(r), r));
    return sorted;
  }
}
