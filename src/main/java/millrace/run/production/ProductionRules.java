// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Optional;
import millrace.datasheet.Datasheet;

/**
 * The rules of a production session.
 *
 * @param sheet the datasheet of the units
 * @param session its unique name
 * @param practice true on a simulated bench: nothing is counted
 * @param selfCheck the rules of the self-check; empty only in practice
 * @param slots the places of boards; none or one where there is only one place
 */
public record ProductionRules(
    Datasheet sheet,
    String session,
    boolean practice,
    Optional<SelfCheck> selfCheck,
    List<String> slots) {
  /** Copies the list; requires a self-check on a real bench. */
  public ProductionRules {
    slots = List.copyOf(slots);
    if (!practice && selfCheck.isEmpty()) {
      throw new IllegalArgumentException("a real bench needs a self-check");
    }
  }

  /**
   * The rules of the self-check.
   *
   * @param reference serial number of the reference unit
   * @param every the largest number of boards between two checks, 1 or more
   */
  public record SelfCheck(String reference, int every) {
    /** Checks the number. */
    public SelfCheck {
      if (every < 1) {
        throw new IllegalArgumentException("a check every " + every + "; expected 1 or more");
      }
    }
  }

  /**
   * Tells whether a serial number belongs to the reference unit.
   *
   * @param serial a serial number
   * @return true if it does
   */
  boolean reference(String serial) {
    return selfCheck.filter(c -> c.reference().equals(serial)).isPresent();
  }
}
