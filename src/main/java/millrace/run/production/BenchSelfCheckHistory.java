// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.batch.ReferenceUnitControlChart;
import millrace.evidence.Result;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;

/** Compares a self-check with the earlier ones with the same set-up. */
final class BenchSelfCheckHistory {
  private final Logbook book;
  private final BoardTestHistory history;
  private final String reference;

  BenchSelfCheckHistory(Logbook book, BoardTestHistory history, String reference) {
    this.book = book;
    this.history = history;
    this.reference = reference;
  }

  /** The outcome of a check, from its results in the logbook. */
  BenchSelfCheck judge(BoardResult result) {
    if (!result.outcome().ended()) {
      return new BenchSelfCheck(
          result.run(), false, result.doubts(), 0, ReferenceUnitControlChart.FEWEST, List.of());
    }
    RunSummary run = book.reader(result.run()).summary();
    Map<Long, List<Result>> checks = before(run);
    ReferenceUnitControlChart chart = chart(checks);
    List<Result> results = history.judged(run).results();
    List<String> findings = chart.findings(results);
    checks.put(result.run(), results);
    return new BenchSelfCheck(
        result.run(),
        findings.isEmpty(),
        findings,
        chart.learnt(),
        ReferenceUnitControlChart.FEWEST,
        shares(chart, checks));
  }

  private static List<BenchSelfCheck.ChartShare> shares(
      ReferenceUnitControlChart chart, Map<Long, List<Result>> checks) {
    List<BenchSelfCheck.ChartShare> shares = new ArrayList<>();
    checks.forEach(
        (run, results) ->
            chart
                .largestShare(results)
                .ifPresent(share -> shares.add(new BenchSelfCheck.ChartShare(run, share))));
    return shares;
  }

  private static ReferenceUnitControlChart chart(Map<Long, List<Result>> checks) {
    ReferenceUnitControlChart chart = new ReferenceUnitControlChart();
    checks.values().forEach(chart::learn);
    return chart;
  }

  /** Results of the checks before one, with its set-up, in order of time. */
  private Map<Long, List<Result>> before(RunSummary check) {
    List<RunSummary> before =
        history.runs(reference, ProductionRunPurpose.CHECK).stream()
            .filter(r -> r.id() < check.id() && r.state() == RunState.COMPLETE)
            .filter(r -> r.setUp().equals(check.setUp()))
            .toList();
    Map<Long, List<Result>> results = new LinkedHashMap<>();
    new JudgedRunReader(book).of(before).forEach(r -> results.put(r.run().id(), r.results()));
    return results;
  }

  /** Tells whether the last check failed, which must be explained before the next. */
  Optional<Long> lastOneOut() {
    List<RunSummary> checks = history.runs(reference, ProductionRunPurpose.CHECK);
    if (checks.isEmpty()) {
      return Optional.empty();
    }
    RunSummary last = checks.get(checks.size() - 1);
    boolean good =
        last.state() == RunState.COMPLETE
            && chart(before(last)).findings(history.judged(last).results()).isEmpty();
    return good ? Optional.empty() : Optional.of(last.id());
  }
}
