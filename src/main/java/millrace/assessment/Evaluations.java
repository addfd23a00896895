// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.TypeTestRun;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.document.Hashes;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;

/**
 * Stores the results of an assessment in the logbook. Their basis is the version of Millrace, the
 * datasheet, the bench file and the points withdrawn by remarks.
 */
public final class Evaluations {
  private Evaluations() {}

  /**
   * Saves the results: they replace results of the same basis and leave those of another basis.
   *
   * @param logbook where the run is
   * @param assessment what was found
   * @param version of Millrace
   * @param now wall clock
   */
  public static void save(Logbook logbook, Assessment assessment, String version, Instant now) {
    JudgementBasis basis = assessment.basis();
    RunEvaluation evaluation =
        new RunEvaluation(
            name(logbook.reader(assessment.run().id()), basis, version),
            now,
            version,
            basis.datasheetSha256(),
            OptionalDouble.of(basis.referenceDegC()),
            basis.otherBenches(),
            basis.typeRun().map(TypeTestRun::run),
            assessment.bin(),
            basis.reason());
    logbook.save(assessment.run().id(), evaluation, assessment.results());
  }

  private static String name(RunReader reader, JudgementBasis basis, String version) {
    List<String> lines = new ArrayList<>();
    lines.add(version);
    lines.add(basis.datasheetSha256().orElse("no datasheet"));
    basis.typeRun().ifPresent(t -> lines.add("like " + t.run()));
    basis.otherBenches().forEach(b -> lines.add(b.sha256() + " " + b.instrument().orElse("")));
    lines.addAll(WithdrawnPoints.inWords(reader));
    return Hashes.sha256(String.join("\n", lines).getBytes(StandardCharsets.UTF_8));
  }
}
