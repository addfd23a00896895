// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.basis;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import millrace.datasheet.Datasheet;
import millrace.logbook.FileRole;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/** Reads the judgement basis of a run from a logbook. */
public final class StoredJudgementBasis {
  private static final String KEPT = "judged by the files that the run was made from";

  private final RunReader reader;
  private final SharedRunInputs shared;
  private final Function<RunReader, TypeTestRun> typeRuns;

  /**
   * Reads for one run.
   *
   * @param reader the run
   * @param shared what it has in common with other runs
   * @param typeRuns gives the coefficients of a type run
   */
  public StoredJudgementBasis(
      RunReader reader, SharedRunInputs shared, Function<RunReader, TypeTestRun> typeRuns) {
    this.reader = reader;
    this.shared = shared;
    this.typeRuns = typeRuns;
  }

  /**
   * The files that the run was made from.
   *
   * @return its datasheet and bench
   * @throws millrace.fault.BadInputException if a stored file is no longer understood
   */
  public JudgementBasis kept() {
    Optional<RunInputFile> sheet = file(FileRole.DATASHEET);
    Optional<RunInputFile> bench = file(FileRole.BENCH);
    Optional<Datasheet> datasheet = sheet.map(f -> shared.datasheet(reader, f.name(), f.sha256()));
    return new JudgementBasis(
        datasheet,
        bench.map(f -> shared.bench(reader, f.name(), f.sha256())),
        sheet.map(RunInputFile::sha256),
        List.of(),
        typeRun(datasheet),
        KEPT);
  }

  /**
   * The type run named at the start of the run, else by the datasheet; empty if this logbook does
   * not have it.
   */
  private Optional<TypeTestRun> typeRun(Optional<Datasheet> datasheet) {
    RunSummary summary = reader.summary();
    return summary
        .start()
        .facts()
        .typeRun()
        .or(() -> datasheet.flatMap(Datasheet::typeRun))
        .filter(uuid -> !uuid.equals(summary.uuid()))
        .flatMap(reader::other)
        .map(run -> shared.typeRun(run, typeRuns));
  }

  /**
   * The basis of the last judgement of the run: its own files if no other basis was ever used.
   *
   * @return its datasheet and bench
   * @throws millrace.fault.BadInputException if a stored file is no longer understood
   */
  public JudgementBasis last() {
    List<RunEvaluation> all = reader.evaluations();
    return all.isEmpty() ? kept() : as(kept(), all.get(all.size() - 1));
  }

  private JudgementBasis as(JudgementBasis kept, RunEvaluation evaluation) {
    JudgementBasis basis = kept;
    Optional<String> sheet = evaluation.datasheetSha256();
    if (sheet.isPresent() && !sheet.equals(kept.datasheetSha256())) {
      basis = basis.with(shared.datasheet(reader, "kept datasheet", sheet.get()), sheet.get());
    }
    for (RunEvaluation.OtherBench other : evaluation.otherBenches()) {
      basis = basis.with(shared.bench(reader, "kept bench file", other.sha256()), other);
    }
    Optional<TypeTestRun> like =
        evaluation.typeRun().flatMap(reader::other).map(run -> shared.typeRun(run, typeRuns));
    return like.map(basis::like).orElse(basis).because(evaluation.reason());
  }

  private Optional<RunInputFile> file(FileRole role) {
    return reader.files().stream().filter(f -> f.role() == role).reduce((a, b) -> b);
  }
}
