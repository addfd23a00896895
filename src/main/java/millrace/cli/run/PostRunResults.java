// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.util.OptionalLong;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.cli.exit.AssessmentExitCode;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.CommandToType;
import millrace.evidence.Version;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.terminal.Console;
import millrace.time.SystemClock;

/** The steps after the last reading of a run: results, their outcome, and where they are. */
final class PostRunResults {
  private PostRunResults() {}

  static ExitCode of(Logbook book, long run, Console console) {
    Assessment assessment = Assessor.assess(book.reader(run));
    Evaluations.save(book, assessment, Version.CURRENT, new SystemClock().now());
    AssessmentExitCode verdict = new AssessmentExitCode(assessment);
    verdict.show(console);
    console.print("All results: " + CommandToType.onRun("analyze", run, book, "--all"));
    console.print("Report:      " + CommandToType.onRun("report", run, book));
    console.flush();
    console.lost().ifPresent(reason -> note(book, run, Console.outputLost(reason)));
    return verdict.code();
  }

  /** The run has ended; later text is a remark. */
  private static void note(Logbook book, long run, String text) {
    book.add(
        run,
        new Remark(
            RemarkKind.REMARK, OptionalLong.empty(), text, "Millrace", new SystemClock().now()));
  }
}
