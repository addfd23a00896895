// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import millrace.sequence.Plan.PlannedPoint;

/** About how many readings a point of a plan comes to, for the room that they take. */
public final class ReadingCount {
  /** Beside each current, which has a voltage: what is around it, once per point. */
  private static final int OF_SURROUNDINGS = 6;

  private ReadingCount() {}

  /**
   * About how many readings a point comes to.
   *
   * @param point a point of a plan
   * @return 0 or more
   */
  public static double of(PlannedPoint point) {
    return point.task().readings(2.0 * point.rules().readings().count() + OF_SURROUNDINGS);
  }
}
