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
 * Words of a label.
 *
 * @param serial serial number of the unit
 * @param outcome the outcome in one or two words
 * @param lines further lines, in order; not empty
 * @param issuer the issuer of the label; empty if not given
 * @param code content of the QR code
 */
public record LabelText(
    String serial, String outcome, List<String> lines, Optional<String> issuer, String code) {
  /** Copies the list. */
  public LabelText {
    lines = List.copyOf(lines);
  }

  /**
   * The label of a unit after a run. The due date appears only after a pass, and only if the
   * datasheet states an interval.
   *
   * @param assessment findings about the run
   * @param run the run; it has ended and matches its digest
   * @param issuer the issuer of the label; empty if not given
   * @return the text
   */
  public static LabelText of(Assessment assessment, RunReader run, Optional<Laboratory> issuer) {
    List<String> lines = new ArrayList<>();
    Optional<LocalDate> tested = RunDays.last(assessment.run());
    lines.add(tested.map(day -> "tested " + day).orElse("day of the test not stated"));
    due(assessment, tested).ifPresent(day -> lines.add("due " + day));
    UUID uuid = assessment.run().uuid();
    boolean remarks = !RunRemarkWords.of(assessment, run).isEmpty();
    String part = assessment.leftOut().isEmpty() ? "" : ", not all limits";
    lines.add("run " + assessment.run().id() + part + (remarks ? ", see its remarks" : ""));
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
