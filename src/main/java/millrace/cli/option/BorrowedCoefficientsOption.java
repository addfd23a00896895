// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.util.Optional;
import millrace.assessment.Assessor;
import millrace.assessment.basis.TypeTestRun;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import picocli.CommandLine.Option;

/** The source of coefficients that a run does not measure. */
public final class BorrowedCoefficientsOption {
  @Option(
      names = "--like",
      paramLabel = "RUN",
      description = {
        "A run of a unit of the same type: what this run does not measure, such as temperature",
        "coefficients, is taken from it with its uncertainty, and results say so."
      })
  private Optional<String> like = Optional.empty();

  /** The facts that a run stores of it. */
  public RunFacts facts(Logbook book) {
    return like.map(name -> RunFacts.NONE.like(book.find(name).uuid())).orElse(RunFacts.NONE);
  }

  /** The type run itself. */
  Optional<TypeTestRun> typeRun(Logbook book) {
    return like.map(name -> book.reader(book.find(name).id())).map(Assessor::typeRun);
  }
}
