// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.LogbookException;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.logbook.RunVerification;

/** What goes out of the house rests on data that are as they were stored. */
public final class VerifiedRun {
  private VerifiedRun() {}

  /**
   * Refuses a run that has not ended or does not fit its digest and seal.
   *
   * @param book where it is
   * @param run the run
   * @param what is to rest on it, with its article
   * @throws LogbookException if nothing vouches for the run
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
   * Refuses a run without a real unit.
   *
   * @param run the run
   * @param why what would be wrong with it, such as {@code a label is stuck on one}
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
