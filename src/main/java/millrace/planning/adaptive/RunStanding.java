// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.Set;
import millrace.sequence.Plan;

/**
 * The state of a run between two stays.
 *
 * @param plan its present plan
 * @param toGo keys of the points still to take
 * @param elapsedS its elapsed time, s
 * @param boundS the longest total time, s: the time that its sequence planned
 */
public record RunStanding(Plan plan, Set<String> toGo, double elapsedS, double boundS) {
  /** Copies the set. */
  public RunStanding {
    toGo = Set.copyOf(toGo);
  }
}
