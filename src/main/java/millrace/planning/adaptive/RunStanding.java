// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.Set;
import millrace.sequence.Plan;

/**
 * Where a run stands between two stays.
 *
 * @param plan its plan by now
 * @param toGo keys of the points that are still to be taken
 * @param elapsedS its elapsed time, s
 * @param boundS how long it may take in all, s: what its sequence planned
 */
public record RunStanding(Plan plan, Set<String> toGo, double elapsedS, double boundS) {
  /** Copies the set. */
  public RunStanding {
    toGo = Set.copyOf(toGo);
  }
}
