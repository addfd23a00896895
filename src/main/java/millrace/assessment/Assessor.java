// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.SharedRunInputs;
import millrace.assessment.basis.StoredJudgementBasis;
import millrace.assessment.basis.TempcoSpread;
import millrace.assessment.basis.TypeTestRun;
import millrace.fault.NotAnalysableException;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.time.Seeds;

/** Assesses runs, each by its datasheet and bench. Stateless. */
public final class Assessor {
  private Assessor() {}

  /**
   * Assesses a run by the basis of its last judgement, or by its own files if it has none.
   *
   * @param reader the run
   * @return everything that was found
   * @throws NotAnalysableException if nothing at all can be computed
   */
  public static Assessment assess(RunReader reader) {
    return assess(reader, new SharedRunInputs());
  }

  /**
   * Assesses one of several runs, by the basis of its last judgement or its own files.
   *
   * @param reader the run
   * @param shared what it has in common with the others
   * @return everything that was found
   * @throws NotAnalysableException if nothing at all can be computed
   */
  public static Assessment assess(RunReader reader, SharedRunInputs shared) {
    return read(reader, shared).get();
  }

  /**
   * Reads one of several runs, and leaves computing to whoever asks for the assessment.
   *
   * @param reader the run; not needed any more afterwards
   * @param shared what it has in common with the others
   * @return computes everything that can be found, in any thread
   * @throws NotAnalysableException if nothing at all can be computed
   */
  public static Supplier<Assessment> read(RunReader reader, SharedRunInputs shared) {
    RunForAssessment run = RunForAssessment.read(reader, basis(reader, shared), shared);
    return () -> new RunAssessor(run, Optional.empty()).assessment();
  }

  /**
   * Assesses a run by a given basis.
   *
   * @param reader the run
   * @param basis datasheet and bench to judge by
   * @return everything that was found
   * @throws NotAnalysableException if nothing at all can be computed
   */
  public static Assessment assess(RunReader reader, JudgementBasis basis) {
    return new RunAssessor(
            RunForAssessment.read(reader, basis, new SharedRunInputs()), Optional.empty())
        .assessment();
  }

  /**
   * Assesses a run and checks its results by the Monte Carlo method (methods.md 2.5).
   *
   * @param reader the run
   * @param basis datasheet and bench to judge by
   * @param seeds seeds of the trials' random numbers
   * @param progress who waits for them
   * @return everything that was found; notes of results say whether the trials agree
   * @throws NotAnalysableException if nothing at all can be computed
   */
  public static Assessment assess(
      RunReader reader, JudgementBasis basis, Seeds seeds, TrialProgress progress) {
    return new RunAssessor(
            RunForAssessment.read(reader, basis, new SharedRunInputs()),
            Optional.of(new RunTrials(seeds, progress)))
        .assessment();
  }

  /**
   * The files that a run was made from.
   *
   * @param reader the run
   * @return its datasheet and bench
   * @throws millrace.fault.BadInputException if a stored file is no longer understood
   */
  public static JudgementBasis keptBasis(RunReader reader) {
    return new StoredJudgementBasis(reader, new SharedRunInputs(), Assessor::typeRun).kept();
  }

  /**
   * The basis of the last judgement of a run: its own files if no other basis was ever used.
   *
   * @param reader the run
   * @return its datasheet and bench
   * @throws millrace.fault.BadInputException if a stored file is no longer understood
   */
  public static JudgementBasis basis(RunReader reader) {
    return basis(reader, new SharedRunInputs());
  }

  /**
   * The basis of the last judgement of one of several runs.
   *
   * @param reader the run
   * @param shared what it has in common with the others
   * @return its datasheet and bench
   * @throws millrace.fault.BadInputException if a stored file is no longer understood
   */
  public static JudgementBasis basis(RunReader reader, SharedRunInputs shared) {
    return new StoredJudgementBasis(reader, shared, Assessor::typeRun).last();
  }

  /**
   * Assesses a type run.
   *
   * @param reader the run
   * @return the coefficients that other runs may take from it
   * @throws millrace.fault.NotAnalysableException if nothing at all can be computed of it
   */
  public static TypeTestRun typeRun(RunReader reader) {
    RunSummary summary = reader.summary();
    Map<String, TypeTestRun.Handed> ranges = new LinkedHashMap<>();
    List<BatchJudgedValue> batch = new SharedRunInputs().batch(reader);
    assess(reader)
        .response()
        .ranges()
        .forEach(
            r ->
                ranges.put(
                    r.range(),
                    new TypeTestRun.Handed(
                        r.coefficients(),
                        TempcoSpread.among(batch, r.range()).map(TempcoSpread::ofOneMorePerK))));
    return new TypeTestRun(
        summary.uuid(),
        "run %s of unit %s".formatted(summary.id(), summary.start().unit()),
        ranges);
  }
}
