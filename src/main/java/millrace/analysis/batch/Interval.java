// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

/**
 * An interval, in the unit of the quantity that it encloses.
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

  Interval times(double factor) {
    return new Interval(lower * factor, upper * factor);
  }
}
