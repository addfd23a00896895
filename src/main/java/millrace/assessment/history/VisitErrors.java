// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.ageing.DriftLine;
import millrace.analysis.response.BorrowedCoefficients;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.comparison.RunComparer;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;

/**
 * The results of several visits as estimates that name what they share (methods.md 13.1): errors of
 * instruments are one and the same in visits with the same instruments, certificates and set-up;
 * assumptions about the unit in all visits; everything else is new at each visit.
 */
final class VisitErrors {
  private static final String UNIT = "unit";

  private final Logbook book;

  /** The first visit of each set of instruments. */
  private final List<RunSummary> benches = new ArrayList<>();

  VisitErrors(Logbook book) {
    this.book = book;
  }

  /** Estimates of one quantity; each is of another run. */
  List<Estimate> of(List<RunSummary> runs, List<Result> results) {
    List<Estimate> all = new ArrayList<>();
    for (int i = 0; i < runs.size(); i++) {
      all.add(estimate(runs.get(i), results.get(i)));
    }
    return all;
  }

  /** Whether all visits so far used the same instruments. */
  boolean sameInstruments() {
    return benches.size() == 1 && benches.get(0).start().origin() != RunOrigin.IMPORTED;
  }

  private Estimate estimate(RunSummary run, Result result) {
    String bench = bench(run);
    Estimate sum = Estimate.exact(((ComputationOutcome.Value) result.outcome()).value());
    double squares = 0;
    double fourths = 0;
    for (BudgetComponent c : result.budget()) {
      if (BorrowedCoefficients.staysWithTheUnit(c)) {
        sum = sum.with(unit(c.component(), UNIT, UNIT), signed(c));
      } else if (ofInstruments(run, c)) {
        sum = sum.with(unit(c.component(), DriftLine.PERHAPS_SHARED, bench), signed(c));
      } else {
        double square = c.contribution() * c.contribution();
        squares += square;
        fourths += square * square / c.degreesOfFreedom().orElse(Double.POSITIVE_INFINITY);
      }
    }
    OptionalDouble nu =
        fourths > 0 ? OptionalDouble.of(squares * squares / fourths) : OptionalDouble.empty();
    String visit = "run " + run.id();
    ErrorSource own =
        new ErrorSource(
            "of the visit",
            ErrorSource.POINT,
            visit,
            ErrorDistribution.NORMAL,
            nu,
            Math.sqrt(squares),
            "ppm",
            visit);
    return sum.with(own, 1);
  }

  /** What a file states as common to its readings may come from the same certificate or not. */
  private static boolean ofInstruments(RunSummary run, BudgetComponent c) {
    boolean common = !c.group().equals(ErrorSource.POINT);
    return c.group().equals(ErrorSource.INSTRUMENT_AND_RANGE)
        || (common && run.start().origin() == RunOrigin.IMPORTED);
  }

  private static ErrorSource unit(String component, String group, String instance) {
    return ErrorSource.normal(component, group, instance, 1, "ppm");
  }

  private static double signed(BudgetComponent c) {
    return Math.copySign(c.contribution(), c.sensitivity());
  }

  /** The name of the set of instruments, by its first visit; an import is by itself. */
  private String bench(RunSummary run) {
    boolean imported = run.start().origin() == RunOrigin.IMPORTED;
    for (RunSummary first : benches) {
      if (!imported && RunComparer.sameInstruments(book, first, run)) {
        return "as in run " + first.id();
      }
    }
    benches.add(run);
    return "as in run " + run.id();
  }
}
