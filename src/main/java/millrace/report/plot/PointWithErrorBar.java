// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * A point with its uncertainty.
 *
 * @param x place along the horizontal axis, in base units
 * @param y place along the vertical axis, in base units
 * @param halfX half the length of the horizontal bar, 0 for none
 * @param halfY half the length of the vertical bar, 0 for none
 */
public record PointWithErrorBar(double x, double y, double halfX, double halfY) {
  /** Checks that all numbers are finite and that no bar is negative. */
  public PointWithErrorBar {
    if (!Double.isFinite(x + y) || !(halfX >= 0 && halfY >= 0)) {
      throw new IllegalArgumentException(
          "a spot at %s, %s with bars of %s and %s".formatted(x, y, halfX, halfY));
    }
  }

  /**
   * A point with a vertical bar only.
   *
   * @param x place along the horizontal axis
   * @param y place along the vertical axis
   * @param halfY half the length of the bar
   * @return the point
   */
  public static PointWithErrorBar of(double x, double y, double halfY) {
    return new PointWithErrorBar(x, y, 0, halfY);
  }
}
