// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.basis.SharedRunInputs;
import millrace.fault.NotAnalysableException;
import millrace.logbook.JudgedRun;
import millrace.logbook.Logbook;
import millrace.time.BackgroundThreads;

/**
 * Judges runs that nobody judged yet: reads them in the thread that asks, one after another, and
 * computes on all processors. Nothing is kept. Close it.
 */
final class RunJudgings implements AutoCloseable {
  private final Logbook book;
  private final SharedRunInputs shared;
  private final Set<String> measuredAgain;
  private final ExecutorService workers;

  /** A run whose judging is known, or under way. */
  record Pending(JudgedRun run, CompletableFuture<Optional<JudgedRun.Judging>> told) {
    /** Waits for it; empty if nothing can be computed of the run. */
    Optional<JudgedRun.Judging> judging() {
      return BackgroundThreads.joined(told);
    }
  }

  /**
   * Judges by what is in a logbook.
   *
   * @param shared what the runs have in common
   * @param measuredAgain units with several runs: their drift needs the budgets of their results
   */
  RunJudgings(Logbook book, SharedRunInputs shared, Set<String> measuredAgain) {
    this.book = book;
    this.shared = shared;
    this.measuredAgain = measuredAgain;
    this.workers =
        Executors.newFixedThreadPool(
            Runtime.getRuntime().availableProcessors(),
            BackgroundThreads.named("millrace-compare"));
  }

  /** The last judging of a run; without one it is judged now. */
  Pending of(JudgedRun run) {
    if (run.judging().isPresent()) {
      return new Pending(run, CompletableFuture.completedFuture(run.judging()));
    }
    try {
      Supplier<Assessment> read = Assessor.read(book.reader(run.run().id()), shared);
      boolean again = measuredAgain.contains(run.run().start().unit());
      return new Pending(run, CompletableFuture.supplyAsync(() -> computed(read, again), workers));
    } catch (NotAnalysableException e) {
      return new Pending(run, CompletableFuture.completedFuture(Optional.empty()));
    }
  }

  private static Optional<JudgedRun.Judging> computed(Supplier<Assessment> read, boolean budgets) {
    try {
      Assessment found = read.get();
      return Optional.of(
          new JudgedRun.Judging(
              found.results().stream().map(r -> budgets ? r : r.withoutBudget()).toList(),
              found.bin()));
    } catch (NotAnalysableException e) {
      return Optional.empty();
    }
  }

  @Override
  public void close() {
    workers.shutdownNow();
  }
}
