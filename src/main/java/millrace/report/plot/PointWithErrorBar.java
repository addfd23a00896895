// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * A point with its uncertainty.
 *
 * @param x where along the horizontal axis, in base units
 * @param y where along the vertical axis, in base units
 * @param halfX half the length of the horizontal bar, 0 for none
 * @param halfY half the length of the vertical bar, 0 for none
 */
public record PointWithErrorBar(double x, double y, double halfX, double halfY) {
  /** Checks that numbers are finite and bars not negative. */
  public PointWithErrorBar {
    if (!Double.isFinite(x + y) || !(halfX >= 0 && halfY >= 0)) {
      throw new IllegalArgumentException(
          "a spot at %s, %s with bars of %s and %s".formatted(x, y, halfX, halfY));
    }
  }

  /**
   * A point with a vertical bar only.
   *
   * @param x where along the horizontal axis
   * @param y where along the vertical axis
   * @param halfY half the length of the bar
   * @return the spot
   */
  public static PointWithErrorBar of(double x, double y, double halfY) {
    return new PointWithErrorBar(x, y, 0, halfY);
  }
}
