// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.logbook.FileRole;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;

/** Further remarks on a run, for every document that judges it. Stateless. */
public final class RunRemarkWords {
  private RunRemarkWords() {}

  /**
   * All remarks.
   *
   * @param assessment of the run
   * @param reader the run
   * @return whole sentences; empty if there are none
   */
  public static List<String> of(Assessment assessment, RunReader reader) {
    List<String> said = new ArrayList<>();
    RunSummary run = assessment.run();
    if (run.state() != RunState.COMPLETE) {
      said.add("This run is " + run.state().text() + ".");
    }
    if (!assessment.points().whole()) {
      said.add("Not all points are good: " + assessment.points().inWords() + ".");
    }
    assessment.points().early().ifPresent(e -> said.add(e.inWords() + "."));
    run.start()
        .facts()
        .retestCause()
        .ifPresent(cause -> said.add("A retest, because: " + cause + ". The first result counts."));
    reader.remarks().forEach(r -> said.add(words(r)));
    if (!assessment.basis().otherBenches().isEmpty() || byAnotherDatasheet(assessment, reader)) {
      said.add("Judged again without measuring again: " + assessment.basis().reason() + ".");
    }
    said.addAll(assessment.basis().later());
    return said;
  }

  private static boolean byAnotherDatasheet(Assessment assessment, RunReader reader) {
    Optional<String> own =
        reader.files().stream()
            .filter(f -> f.role() == FileRole.DATASHEET)
            .map(RunInputFile::sha256)
            .reduce((a, b) -> b);
    Optional<String> counts = assessment.basis().datasheetSha256();
    return counts.isPresent() && !counts.equals(own);
  }

  private static String words(Remark r) {
    if (r.kind() == RemarkKind.REPAIR) {
      return "The unit was repaired after this run: %s (%s). These results are of before."
          .formatted(r.text(), r.author());
    }
    String what = r.point().isPresent() ? "Point " + r.point().getAsLong() : "Run";
    return "%s, %s: %s (%s)".formatted(what, r.kind().text(), r.text(), r.author());
  }
}
