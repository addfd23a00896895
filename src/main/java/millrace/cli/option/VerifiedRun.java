// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.util.Optional;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.LogbookException;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.logbook.RunVerification;

/**
 * Checks a run before a document is based on it: its data must be unchanged since they were stored.
 */
public final class VerifiedRun {
  private VerifiedRun() {}

  /**
   * Refuses a run that has not ended or does not match its digest and seal.
   *
   * @param book the logbook of the run
   * @param run the run
   * @param what the document based on it, with its article
   * @throws LogbookException if nothing proves the run unchanged
   */
  public static void require(Logbook book, RunSummary run, String what) {
    RunVerification found = book.verify(run.id());
    if (!found.sound()) {
      throw new LogbookException(
          "run %s %s; expected a run that has ended and fits its digest and seal, since %s rests on it. 'millrace show %s --verify' tells more."
              .formatted(
                  run.id(),
                  found.faults().isEmpty()
                      ? "has not ended"
                      : "is NOT verified: " + found.faults().get(0),
                  what,
                  run.id()));
    }
  }

  /**
   * Refuses a run after which the unit was repaired: what it says is not true of the unit any more.
   *
   * @param run the run
   * @throws BadInputException if a note says so
   */
  public static void requireNoRepairSince(RunReader run) {
    Optional<Remark> repair =
        run.remarks().stream().filter(r -> r.kind() == RemarkKind.REPAIR).findFirst();
    repair.ifPresent(
        r -> {
          throw new BadInputException(
              new InputFault(
                  FilePlace.of("run " + run.summary().id()),
                  "the unit was repaired after it: " + r.text(),
                  "a run since that repair: a label says how the unit is",
                  "Measure the unit again and label that run."));
        });
  }

  /**
   * Refuses a run without a real unit.
   *
   * @param run the run
   * @param why the reason, such as {@code a label is stuck on one}
   * @throws BadInputException if it was simulated
   */
  public static void requireReal(RunSummary run, String why) {
    if (run.start().origin() == RunOrigin.SIMULATED) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run " + run.id()),
              "it was simulated, so no real unit stands behind it",
              "a run of a real unit: " + why,
              "'millrace runs' lists them with their origin."));
    }
  }
}
