// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Optional;
import millrace.evidence.RunOrigin;
import millrace.logbook.JudgedRun;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFacts;
import millrace.logbook.RunFilter;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;

/**
 * The earlier tests of units in the logbook. Real units are never compared with simulated ones;
 * practice uses only its own tests.
 */
final class BoardTestHistory {
  private final Logbook book;
  private final ProductionRules rules;

  BoardTestHistory(Logbook book, ProductionRules rules) {
    this.book = book;
    this.rules = rules;
  }

  /** Earlier tests of a unit by the production loop, the oldest first. */
  List<EarlierTestOfUnit> of(String serial) {
    return runs(serial, ProductionRunPurpose.BOARD).stream().map(this::earlier).toList();
  }

  /** Runs of a unit that count for this session, for one purpose, the oldest first. */
  List<RunSummary> runs(String serial, ProductionRunPurpose purpose) {
    RunFilter unit = RunFilter.ALL.ofUnit(Optional.of(serial));
    return book.runs(unit).stream().filter(r -> counts(r, purpose)).toList();
  }

  private boolean counts(RunSummary run, ProductionRunPurpose purpose) {
    RunFacts facts = run.start().facts();
    boolean mine = facts.purpose().equals(Optional.of(purpose));
    if (rules.practice()) {
      return mine
          && run.start().origin() == RunOrigin.SIMULATED
          && facts.session().equals(Optional.of(rules.session()));
    }
    return mine && run.start().origin() == RunOrigin.BENCH;
  }

  private EarlierTestOfUnit earlier(RunSummary run) {
    RunFacts facts = run.start().facts();
    return new EarlierTestOfUnit(
        run.id(), run.start().startedAt(), facts.attempt(), outcome(run), facts.kind());
  }

  private BoardOutcome outcome(RunSummary run) {
    if (run.state() != RunState.COMPLETE) {
      return BoardOutcome.ABORTED;
    }
    JudgedRun judged = judged(run);
    boolean whole = judged.doubtfulPoints() == 0;
    return BoardOutcome.of(judged.results(), whole, rules.sheet().conditionalPassFails());
  }

  /** A run with its last judging. */
  JudgedRun judged(RunSummary run) {
    return new JudgedRunReader(book).of(run);
  }
}
