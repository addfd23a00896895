// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

/**
 * An interval of a quantity, both ends included; a single value where both ends are one.
 *
 * @param lower its lower end, in the base unit of the quantity; negative infinity for none
 * @param upper its upper end, in the same unit, not below; infinity for none
 */
public record ClosedInterval(double lower, double upper) {
  /** Checks the order. */
  public ClosedInterval {
    if (!(lower <= upper)) {
      throw new IllegalArgumentException(
          "the interval from " + lower + " to " + upper + " is upside down");
    }
  }

  /**
   * An interval that has both ends.
   *
   * @param lower its lower end, finite
   * @param upper its upper end, finite, not below
   * @return the interval
   * @throws IllegalArgumentException if the ends are in the wrong order or one is not finite
   */
  public static ClosedInterval finite(double lower, double upper) {
    if (!(lower <= upper) || Double.isInfinite(lower) || Double.isInfinite(upper)) {
      throw new IllegalArgumentException(
          "the interval from " + lower + " to " + upper + " is upside down or has no end");
    }
    return new ClosedInterval(lower, upper);
  }

  /**
   * Tells whether a value lies inside.
   *
   * @param value the value
   * @return true if inside
   */
  public boolean contains(double value) {
    return contains(value, 0);
  }

  /**
   * Tells whether a value lies inside or close by.
   *
   * @param value the value
   * @param slack how far outside still counts, 0 or more, in the unit of the ends
   * @return true if inside
   */
  public boolean contains(double value, double slack) {
    return value >= lower - slack && value <= upper + slack;
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
