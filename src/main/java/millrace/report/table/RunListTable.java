// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.RunOrigin;
import millrace.logbook.LatestRunVerdict;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.report.words.OverallVerdict;

/** Runs as a list for the terminal: the outcome first, then the facts of the run. Stateless. */
public final class RunListTable {
  private static final int WIDEST = 32;
  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm").withZone(ZoneOffset.UTC);

  private RunListTable() {}

  /**
   * Formats runs in columns.
   *
   * @param runs runs in the order of printing
   * @param verdicts latest verdicts, by run
   * @return lines, each with its line feed
   */
  public static String print(List<RunSummary> runs, Map<Long, LatestRunVerdict> verdicts) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "run",
            "outcome",
            "failed first",
            "unit",
            "began (UTC)",
            "operator",
            "batch",
            "origin",
            "title");
    for (RunSummary r : runs) {
      LatestRunVerdict verdict = verdicts.getOrDefault(r.id(), LatestRunVerdict.none(r.id()));
      table.row(
          Long.toString(r.id()),
          outcome(r, verdict),
          verdict.failedFirst().map(RunListTable::failed).orElse(""),
          r.start().unit(),
          r.start().measuredAt().map(RunListTable::minute).orElse("not stated"),
          r.start().people().operator().orElse(""),
          r.start().people().batch().orElse(""),
          origin(r.start().origin()),
          r.start().title());
    }
    return table.text();
  }

  private static String minute(Instant at) {
    return MINUTE.format(at);
  }

  /** The outcome of a run; an incomplete run states that before its verdict. */
  private static String outcome(RunSummary run, LatestRunVerdict verdict) {
    Optional<String> cut =
        run.state() == RunState.COMPLETE ? Optional.empty() : Optional.of(run.state().text());
    return cut.map(
            state ->
                verdict.limits().isEmpty()
                    ? state
                    : state + ", " + OverallVerdict.word(verdict.limits()))
        .orElseGet(() -> OverallVerdict.word(verdict.limits()));
  }

  private static String failed(LatestRunVerdict.Failed failed) {
    return failed.quantity().inWords() + failed.range().map(r -> " of " + r).orElse("");
  }

  private static String origin(RunOrigin origin) {
    return origin == RunOrigin.SIMULATED ? "SIMULATED" : origin.text();
  }
}
