// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.Optional;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFacts;

/**
 * A test to be made.
 *
 * @param serial serial number of the unit
 * @param purpose the purpose of the test
 * @param attempt the number of this test for the unit, 1 or more
 * @param cause the cause of another test; present exactly for a retest, and for a check after a
 *     failed one
 * @param slot its slot; empty where the bench has only one place
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
   * The facts stored with the run.
   *
   * @return purpose, attempt, cause and slot
   */
  public RunFacts facts() {
    RunFacts facts = RunFacts.NONE.tested(purpose, attempt, cause);
    return slot.map(facts::inSlot).orElse(facts);
  }
}
