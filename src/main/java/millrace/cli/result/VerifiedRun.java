// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import millrace.fault.LogbookException;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.logbook.RunVerification;

/** What goes out of the house rests on data that are as they were stored. */
final class VerifiedRun {
  private VerifiedRun() {}

  /**
   * Refuses a run that has not ended or does not fit its digest and seal.
   *
   * @param book where it is
   * @param run the run
   * @param what is to rest on it, with its article
   * @throws LogbookException if nothing vouches for the run
   */
  static void require(Logbook book, RunSummary run, String what) {
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
}
