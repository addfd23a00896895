// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Optional;
import millrace.datasheet.Datasheet;

/**
 * What a production session is run by.
 *
 * @param sheet what the units promise
 * @param session a name that no other session has
 * @param practice true on a simulated bench: nothing is counted
 * @param selfCheck how the bench is checked; empty only in practice
 * @param slots where boards sit; one or none where there is only one place
 */
public record ProductionRules(
    Datasheet sheet,
    String session,
    boolean practice,
    Optional<SelfCheck> selfCheck,
    List<String> slots) {
  /** Copies the list, checks that a real bench is checked. */
  public ProductionRules {
    slots = List.copyOf(slots);
    if (!practice && selfCheck.isEmpty()) {
      throw new IllegalArgumentException("a real bench needs a self-check");
    }
  }

  /**
   * How a bench is checked.
   *
   * @param reference serial number of the reference unit
   * @param every how many boards may be tested between two checks, 1 or more
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
   * Tells whether a serial number is that of the reference unit.
   *
   * @param serial a serial number
   * @return true if it is
   */
  boolean reference(String serial) {
    return selfCheck.filter(c -> c.reference().equals(serial)).isPresent();
  }
}
