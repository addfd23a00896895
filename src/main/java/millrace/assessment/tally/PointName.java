// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import millrace.evidence.Point;

/** The name of a point in curves and budgets. */
public final class PointName {
  private PointName() {}

  /**
   * The name of a point.
   *
   * @param point a point of the run
   * @return a name that no other point of the run has
   */
  public static String of(Point point) {
    return "point " + point.number().text();
  }
}
