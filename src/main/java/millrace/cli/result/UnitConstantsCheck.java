// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.MeasuredPoints;
import millrace.assessment.comparison.RunComparer;
import millrace.assessment.correction.CorrectionResidualCheck;
import millrace.assessment.correction.UnitCorrectionConstants;
import millrace.cli.exit.ExitCode;
import millrace.evidence.Version;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.report.json.CorrectionConstantsJson;
import millrace.report.json.RunJson;
import millrace.report.table.UnitConstantsCheckTable;
import millrace.terminal.Console;

/** Compares later runs of a unit with the constants from an earlier run. */
record UnitConstantsCheck(Logbook book, List<RunSummary> runs) {
  private record Done(RunSummary run, CorrectionResidualCheck check) {}

  ExitCode tell(Console console, boolean json) {
    RunSummary first = runs.get(0);
    Assessment assessment = Assessor.assess(book.reader(first.id()));
    UnitCorrectionConstants corrections = UnitCorrectionConstants.of(assessment);
    List<Done> done = new ArrayList<>();
    for (RunSummary later : runs.subList(1, runs.size())) {
      refuseAnother(first, later);
      CorrectionResidualCheck check =
          CorrectionResidualCheck.of(
              corrections,
              MeasuredPoints.of(book.reader(later.id())),
              RunComparer.sameInstruments(book, first, later),
              assessment.basis().coverage());
      done.add(new Done(later, check));
    }
    if (json) {
      ObjectNode document = CorrectionConstantsJson.of(assessment, corrections, Version.CURRENT);
      ArrayNode checks = document.putArray("checks");
      done.forEach(d -> checks.add(CorrectionConstantsJson.of(d.run().id(), d.check())));
      console.document(RunJson.text(document));
    } else {
      done.forEach(d -> console.table(UnitConstantsCheckTable.print(d.run().id(), d.check())));
    }
    return code(done);
  }

  private static void refuseAnother(RunSummary first, RunSummary later) {
    if (!first.start().unit().equals(later.start().unit())) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run " + later.id()),
              "it is of unit '%s'".formatted(later.start().unit()),
              "unit '%s', whose constants run %s gives".formatted(first.start().unit(), first.id()),
              "Constants belong to one unit."));
    }
  }

  private static ExitCode code(List<Done> done) {
    List<ExitCode> codes = new ArrayList<>();
    for (Done d : done) {
      if (d.check().ranges().isEmpty()) {
        codes.add(ExitCode.INCOMPLETE);
      } else if (!d.check().holds()) {
        codes.add(ExitCode.FAIL);
      }
    }
    return ExitCode.worst(codes);
  }
}
