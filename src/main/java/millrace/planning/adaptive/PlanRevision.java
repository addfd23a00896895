// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.List;

/**
 * What is to be changed of the points that a run still has before it.
 *
 * @param kind what is changed
 * @param words the change for people, one line
 * @param keys of the points
 * @param reason why
 */
public record PlanRevision(Kind kind, String words, List<String> keys, String reason) {
  /** Copies the list. */
  public PlanRevision {
    keys = List.copyOf(keys);
  }

  /** What is changed. */
  public enum Kind {
    /** The points are left out. */
    LEAVE_OUT,
    /** The points are measured once more. */
    REPEAT
  }
}
