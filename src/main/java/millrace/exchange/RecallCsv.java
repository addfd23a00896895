// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.Writer;
import java.util.List;
import millrace.assessment.benches.BenchHistory;
import millrace.assessment.benches.BenchHistory.Span;
import millrace.logbook.RunSummary;

/**
 * The units that were tested while a bench was or may have been out, as CSV (IETF, RFC 4180, 2005),
 * one row per run. One thread.
 */
public final class RecallCsv {
  private RecallCsv() {}

  /**
   * Writes the list.
   *
   * @param benches all benches
   * @param out the destination; flushed, not closed
   */
  public static void write(List<BenchHistory> benches, Writer out) {
    CsvTable table =
        new CsvTable(
            out,
            List.of(
                "unit",
                "run",
                "run_uuid",
                "batch",
                "started_at",
                "bench",
                "set_up",
                "checked_by",
                "reference",
                "last_good_check_run",
                "first_out_check_run",
                "next_good_check_run"));
    for (BenchHistory bench : benches) {
      for (Span span : bench.spans()) {
        span.recall().forEach(run -> table.add(row(bench, span, run)));
      }
    }
    table.finish();
  }

  private static List<String> row(BenchHistory bench, Span span, RunSummary run) {
    return List.of(
        run.start().unit(),
        String.valueOf(run.id()),
        run.uuid().toString(),
        run.start().people().batch().orElse(""),
        run.start().startedAt().toString(),
        bench.bench(),
        bench.setUp(),
        bench.by().text(),
        bench.reference(),
        span.lastGood().map(c -> String.valueOf(c.run().id())).orElse(""),
        String.valueOf(span.firstOut().run().id()),
        span.nextGood().map(c -> String.valueOf(c.run().id())).orElse(""));
  }
}
