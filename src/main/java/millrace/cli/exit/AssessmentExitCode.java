// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.logbook.RunState;
import millrace.report.table.RunOverview;
import millrace.report.words.RunVerdictText;
import millrace.terminal.Console;

/** The exit code of an assessment, and its meaning in one sentence. */
public final class AssessmentExitCode {
  private final Assessment assessment;
  private final List<Conformity> judged;

  /**
   * Makes it from an assessment.
   *
   * @param assessment the assessment of a run
   */
  public AssessmentExitCode(Assessment assessment) {
    this.assessment = assessment;
    this.judged =
        assessment.results().stream()
            .map(Result::judgement)
            .flatMap(Optional::stream)
            .map(j -> j.conformity())
            .toList();
  }

  private long count(Conformity which) {
    return judged.stream().filter(c -> c == which).count();
  }

  /** The code that takes precedence among all judgements and missing results. */
  public ExitCode code() {
    List<ExitCode> codes = new ArrayList<>();
    boolean strict =
        assessment.basis().datasheet().map(Datasheet::conditionalPassFails).orElse(false);
    if (count(Conformity.FAIL) + count(Conformity.CONDITIONAL_FAIL) > 0
        || (strict && count(Conformity.CONDITIONAL_PASS) > 0)) {
      codes.add(ExitCode.FAIL);
    }
    boolean unfinished = assessment.run().state() != RunState.COMPLETE;
    if (count(Conformity.NOT_EVALUATED) > 0 || !assessment.points().whole() || unfinished) {
      codes.add(ExitCode.INCOMPLETE);
    }
    return ExitCode.worst(codes);
  }

  /** The run on one screen: the verdict, the reason, the advice, the worst case of each range. */
  public void show(Console console) {
    RunOverview overview = new RunOverview(assessment);
    console.paragraph(overview.verdict());
    overview.reasons().forEach(console::paragraph);
    String table = overview.table();
    if (!table.isEmpty()) {
      console.print("");
      console.table(table);
    }
    overview.notes().forEach(console::paragraph);
  }

  /** The outcome in the words of the report. */
  public String sentence() {
    return new RunVerdictText(assessment).inOneLine();
  }
}
