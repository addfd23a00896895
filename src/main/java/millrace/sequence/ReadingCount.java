// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import millrace.sequence.Plan.PlannedPoint;

/** Estimates the number of readings of a point, and so the disk space that they take. */
public final class ReadingCount {
  /** Readings of the surroundings per point, beside those of current and voltage. */
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
