// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.assessment.Assessment;
import millrace.evidence.Result;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;
import millrace.report.words.RunVerdictText;

/**
 * Parts of a report that stand on their own, for a page of a run that is not over. They link to
 * nothing outside of themselves. Stateless; one thread at a time per run.
 */
public final class ReportPieces {
  private ReportPieces() {}

  /**
   * The limits at a glance, as far as they are decided.
   *
   * @param out where to
   * @param assessment what is known so far
   * @param run the run
   * @return false where no limit applies, and nothing was written
   */
  public static boolean limits(Markup out, Assessment assessment, RunReader run) {
    List<Result> judged = new RunVerdictText(assessment).judged();
    if (!judged.isEmpty()) {
      LimitsOverviewTable.write(ReportContext.piece("limits", out, assessment, run), judged);
    }
    return !judged.isEmpty();
  }

  /**
   * The sweep over loads of one range that was taken last: its points with their line, the knee as
   * far as it is known, what the line leaves over.
   *
   * @param out where to
   * @param assessment what is known so far
   * @param run the run
   * @param range the range
   */
  public static void lastSweep(Markup out, Assessment assessment, RunReader run, String range) {
    RangeSections.lastSweep(ReportContext.piece("sweep", out, assessment, run), range);
  }
}
