// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Result;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.logbook.TestPurpose;

/** Holds a self-check against the earlier ones with the same set-up. */
final class Checks {
  private final Logbook book;
  private final History history;
  private final String reference;

  Checks(Logbook book, History history, String reference) {
    this.book = book;
    this.history = history;
    this.reference = reference;
  }

  /** What a check came to, by the results that the logbook keeps of it. */
  Check judge(BoardResult result) {
    if (!result.outcome().ended()) {
      return new Check(result.run(), false, result.doubts(), 0, ReferenceChart.FEWEST);
    }
    RunReader run = book.reader(result.run());
    ReferenceChart chart = before(run.summary());
    List<Result> results = history.results(run);
    List<String> findings = chart.findings(results);
    return new Check(
        result.run(), findings.isEmpty(), findings, chart.learnt(), ReferenceChart.FEWEST);
  }

  private ReferenceChart before(RunSummary check) {
    ReferenceChart chart = new ReferenceChart();
    for (RunSummary earlier : history.runs(reference, TestPurpose.CHECK)) {
      if (earlier.id() < check.id()
          && earlier.state() == RunState.COMPLETE
          && earlier.setUp().equals(check.setUp())) {
        chart.learn(history.results(book.reader(earlier.id())));
      }
    }
    return chart;
  }

  /** Tells whether the last check of all was out, which must be explained before the next. */
  Optional<Long> lastOneOut() {
    List<RunSummary> checks = history.runs(reference, TestPurpose.CHECK);
    if (checks.isEmpty()) {
      return Optional.empty();
    }
    RunSummary last = checks.get(checks.size() - 1);
    boolean good =
        last.state() == RunState.COMPLETE
            && before(last).findings(history.results(book.reader(last.id()))).isEmpty();
    return good ? Optional.empty() : Optional.of(last.id());
  }
}
