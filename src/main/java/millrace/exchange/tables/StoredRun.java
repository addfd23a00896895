// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.MeasuredPoint;
import millrace.assessment.MeasuredPoints;
import millrace.assessment.basis.SharedRunInputs;
import millrace.evidence.Result;
import millrace.fault.NotAnalysableException;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/**
 * A run with its results. Its facts are read once: every row of its tables bears some of them.
 *
 * @param reader the run
 * @param summary its facts
 * @param results the last judged results, with their budgets; judged now if there are none
 * @param bin the bin that takes the measured values; empty if none
 * @param measured its points, reduced to currents at voltages
 * @param notes why any of these is empty
 */
record StoredRun(
    RunReader reader,
    RunSummary summary,
    List<Result> results,
    Optional<String> bin,
    List<MeasuredPoint> measured,
    List<String> notes) {

  long number() {
    return summary.id();
  }

  String unit() {
    return summary.start().unit();
  }

  /** The origin of its readings, given in each row: simulated ones never pass for real ones. */
  String origin() {
    return summary.start().origin().text();
  }

  /** Reads a run with the budgets of its results, or without, as {@code of} reads them. */
  static StoredRun of(
      RunReader reader,
      SharedRunInputs shared,
      BiFunction<RunReader, RunEvaluation, List<Result>> of) {
    RunSummary summary = reader.summary();
    List<String> notes = new ArrayList<>();
    List<RunEvaluation> evaluations = reader.evaluations();
    List<Result> results = List.of();
    Optional<String> bin = Optional.empty();
    List<MeasuredPoint> measured = List.of();
    try {
      measured = MeasuredPoints.of(reader, shared);
      if (evaluations.isEmpty()) {
        Assessment now = Assessor.assess(reader, shared);
        results = now.results();
        bin = now.bin();
      }
    } catch (NotAnalysableException e) {
      notes.add(
          "run %s: nothing can be computed of its readings; they are in the tables as they are"
              .formatted(summary.id()));
    }
    if (!evaluations.isEmpty()) {
      RunEvaluation last = evaluations.get(evaluations.size() - 1);
      results = of.apply(reader, last);
      bin = last.bin();
    }
    return new StoredRun(reader, summary, results, bin, measured, notes);
  }
}
