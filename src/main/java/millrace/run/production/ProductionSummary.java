// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.Set;

/**
 * What a session came to.
 *
 * @param tally how its boards fared
 * @param seen every outcome that a board had, retests included
 * @param checkFailed true if a self-check failed
 */
public record ProductionSummary(
    OperatorScreen.Tally tally, Set<BoardOutcome> seen, boolean checkFailed) {
  /** Copies the set. */
  public ProductionSummary {
    seen = Set.copyOf(seen);
  }
}
