// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/** Minimum and maximum of the values along one axis. */
final class AxisExtent {
  private final boolean aboveZeroOnly;
  private double low = Double.POSITIVE_INFINITY;
  private double high = Double.NEGATIVE_INFINITY;

  AxisExtent(boolean aboveZeroOnly) {
    this.aboveZeroOnly = aboveZeroOnly;
  }

  void see(double value) {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("a plot shows finite numbers, found " + value);
    }
    if (aboveZeroOnly && value <= 0) {
      return;
    }
    low = Math.min(low, value);
    high = Math.max(high, value);
  }

  boolean empty() {
    return low > high;
  }

  double low() {
    return empty() ? (aboveZeroOnly ? 1 : 0) : low;
  }

  double high() {
    return empty() ? 1 : high;
  }
}
