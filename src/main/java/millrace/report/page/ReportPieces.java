// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.assessment.Assessment;
import millrace.evidence.Result;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;
import millrace.report.words.RunVerdictText;

/**
 * Separate parts of a report, for the page of a running measurement. They contain no links to
 * anything outside. Stateless; one thread at a time per run.
 */
public final class ReportPieces {
  private ReportPieces() {}

  /**
   * Writes the overview of the limits decided so far.
   *
   * @param out destination
   * @param assessment findings so far
   * @param run the run
   * @return false if no limit applies; nothing is written then
   */
  public static boolean limits(Markup out, Assessment assessment, RunReader run) {
    List<Result> judged = new RunVerdictText(assessment).judged();
    if (!judged.isEmpty()) {
      LimitsOverviewTable.write(ReportContext.piece("limits", out, assessment, run), judged);
    }
    return !judged.isEmpty();
  }

  /**
   * Writes the last load sweep of one range: its points with their line, the knee as far as known,
   * and the residuals.
   *
   * @param out destination
   * @param assessment findings so far
   * @param run the run
   * @param range the range
   */
  public static void lastSweep(Markup out, Assessment assessment, RunReader run, String range) {
    RangeSections.lastSweep(ReportContext.piece("sweep", out, assessment, run), range);
  }
}
