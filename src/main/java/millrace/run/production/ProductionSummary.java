// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.Set;

/**
 * The summary of a session.
 *
 * @param tally the counts of its boards
 * @param seen every outcome of a board, retests included
 * @param checkFailed true if a self-check failed
 */
public record ProductionSummary(
    OperatorScreen.Tally tally, Set<BoardOutcome> seen, boolean checkFailed) {
  /** Copies the set. */
  public ProductionSummary {
    seen = Set.copyOf(seen);
  }
}
