// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.Optional;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFacts;

/**
 * One test that is to be made.
 *
 * @param serial serial number of the unit
 * @param purpose what the test is for
 * @param attempt which test of this unit it is, 1 or more
 * @param cause why it is tested again; present exactly for a retest, and for a check after one that
 *     failed
 * @param slot where it sits; empty where the bench has only one place
 * @param setUp how it is connected
 */
public record BoardTestJob(
    String serial,
    ProductionRunPurpose purpose,
    int attempt,
    Optional<String> cause,
    Optional<String> slot,
    FixtureSetUp setUp) {
  /** Checks the attempt. */
  public BoardTestJob {
    if (attempt < 1) {
      throw new IllegalArgumentException("attempt " + attempt + "; expected 1 or more");
    }
  }

  /**
   * What the logbook keeps of it with the run.
   *
   * @return purpose, attempt, cause and slot
   */
  public RunFacts facts() {
    RunFacts facts = RunFacts.NONE.tested(purpose, attempt, cause);
    return slot.map(facts::inSlot).orElse(facts);
  }
}
