// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * Interval that an axis shows.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param low its lower end, finite
 * @param high its upper end, finite, above low
 */
record AxisSpan(double low, double high) {
  private static final double MARGIN = 0.05;
  private static final double LEAST_SHARE = 1e-9;

  AxisSpan {
    if (!(low < high) || Double.isInfinite(high - low)) {
      throw new IllegalArgumentException(
          "a span goes from a lower to a higher end, found %s to %s".formatted(low, high));
    }
  }

  /**
   * The span of an extent with a margin at both ends; it is wide enough for division into ticks.
   */
  static AxisSpan around(double low, double high) {
    double size = Math.max(Math.abs(low), Math.abs(high));
    double least = size == 0 ? 1 : size * LEAST_SHARE;
    double air = Math.max((high - low) * MARGIN, high - low < least ? least : 0);
    return new AxisSpan(low - air, high + air);
  }

  /** The span on a logarithmic axis; its margin is a factor. */
  static AxisSpan aroundLog(double low, double high) {
    double air = Math.max(Math.pow(high / low, MARGIN), high / low < 1.01 ? 2 : 1);
    return new AxisSpan(low / air, high * air);
  }

  boolean holds(double value) {
    return value >= low && value <= high;
  }
}
