// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

/**
 * Two ends, in the unit of what they enclose.
 *
 * @param lower the lower end
 * @param upper the upper end, not below lower
 */
public record Interval(double lower, double upper) {

  /** Checks the order. */
  public Interval {
    if (!(lower <= upper)) {
      throw new IllegalArgumentException(
          "interval from %s to %s is upside down".formatted(lower, upper));
    }
  }

  /**
   * Tells whether a value lies inside, the ends included.
   *
   * @param value in the unit of the ends
   * @return true if inside
   */
  public boolean contains(double value) {
    return value >= lower && value <= upper;
  }

  Interval times(double factor) {
    return new Interval(lower * factor, upper * factor);
  }
}
