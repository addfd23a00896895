// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.List;

/**
 * A change of the points that a run still has before it.
 *
 * @param kind the kind of change
 * @param words the change in words, one line
 * @param keys the keys of the points
 * @param reason the reason for the change
 */
public record PlanRevision(Kind kind, String words, List<String> keys, String reason) {
  /** Copies the list. */
  public PlanRevision {
    keys = List.copyOf(keys);
  }

  /** The kind of change. */
  public enum Kind {
    /** The points are left out. */
    LEAVE_OUT,
    /** The points are measured once more. */
    REPEAT
  }
}
