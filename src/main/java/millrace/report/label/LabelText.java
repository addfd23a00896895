// SPDX-License-Identifier: Apache-2.0
package millrace.report.label;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.laboratory.Laboratory;
import millrace.logbook.RunReader;
import millrace.report.words.OverallVerdict;
import millrace.report.words.RunDays;
import millrace.report.words.RunRemarkWords;

/**
 * What a label says.
 *
 * @param serial of the unit
 * @param outcome in one or two words
 * @param lines what else, in order; not empty
 * @param issuer who puts it on; empty if nobody was named
 * @param code what a scanner reads
 */
public record LabelText(
    String serial, String outcome, List<String> lines, Optional<String> issuer, String code) {
  /** Copies the list. */
  public LabelText {
    lines = List.copyOf(lines);
  }

  /**
   * What the label of a unit says after a run. When it is due stands there only after a pass, and
   * where its datasheet states an interval.
   *
   * @param assessment what was found about the run
   * @param run the run; it has ended and fits its digest
   * @param issuer who puts the label on; empty if nobody was named
   * @return the words
   */
  public static LabelText of(Assessment assessment, RunReader run, Optional<Laboratory> issuer) {
    List<String> lines = new ArrayList<>();
    Optional<LocalDate> tested = RunDays.last(assessment.run());
    lines.add(tested.map(day -> "tested " + day).orElse("day of the test not stated"));
    due(assessment, tested).ifPresent(day -> lines.add("due " + day));
    UUID uuid = assessment.run().uuid();
    boolean remarks = !RunRemarkWords.of(assessment, run).isEmpty();
    lines.add("run " + assessment.run().id() + (remarks ? ", see its remarks" : ""));
    return new LabelText(
        assessment.run().start().unit(),
        OverallVerdict.of(assessment.results()).word(),
        lines,
        issuer.map(Laboratory::name),
        QrCode.content(uuid, assessment.run().digest().orElseGet(run::digest)));
  }

  private static Optional<LocalDate> due(Assessment assessment, Optional<LocalDate> tested) {
    Optional<Conformity> together = Result.together(assessment.results());
    return together.filter(c -> c == Conformity.PASS || c == Conformity.CONDITIONAL_PASS).isEmpty()
        ? Optional.empty()
        : assessment
            .basis()
            .datasheet()
            .flatMap(Datasheet::recalibrate)
            .flatMap(interval -> tested.map(interval::after));
  }
}
