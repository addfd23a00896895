// SPDX-License-Identifier: Apache-2.0
package millrace.calibration;

import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * An interval.
 *
 * @param lower its lower end
 * @param upper its upper end, not below
 */
public record StatedInterval(double lower, double upper) {
  /** Checks the order. */
  public StatedInterval {
    if (!(lower <= upper)) {
      throw new IllegalArgumentException(
          "the interval from " + lower + " to " + upper + " is upside down");
    }
  }

  /**
   * Tells whether a value lies inside.
   *
   * @param value the value
   * @return true if inside
   */
  public boolean contains(double value) {
    return value >= lower && value <= upper;
  }

  /**
   * The interval in words.
   *
   * @param dimension what its ends are, in base units
   * @return {@code at most 30 degC} where it has no lower end, else {@code from 18 degC to 28 degC}
   */
  public String inWords(Dimension dimension) {
    String most = QuantityText.print(upper, dimension);
    return Double.isInfinite(lower)
        ? "at most " + most
        : "from %s to %s".formatted(QuantityText.print(lower, dimension), most);
  }
}
