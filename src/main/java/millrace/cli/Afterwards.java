package millrace.cli;

import java.util.List;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.logbook.Logbook;
import millrace.report.ResultTable;
import millrace.time.SystemClock;

/** What follows the last reading of a run: results, their outcome, where to look. */
final class Afterwards {
  private Afterwards() {}

  static ExitCode of(Logbook book, long run, Console console) {
    Assessment assessment = Assessor.assess(book.reader(run));
    Evaluations.save(book, assessment, RootCommand.VERSION, new SystemClock().now());
    Judged verdict = new Judged(assessment);
    console.table(ResultTable.print(assessment.results()));
    console.print(verdict.sentence());
    console.print(
        "Report: "
            + CommandLineText.of(
                List.of(
                    "report", Long.toString(run), "--logbook", CommandLineText.path(book.path()))));
    return verdict.code();
  }
}
