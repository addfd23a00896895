// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import millrace.run.control.RunOutcome;

/** What a run came to, as tests ask. */
public final class Whole {
  private Whole() {}

  /** Whether every point is there and none is flagged. */
  public static boolean is(RunOutcome outcome) {
    return outcome.flagged() == 0 && outcome.skipped() == 0 && outcome.toGo() == 0;
  }
}
