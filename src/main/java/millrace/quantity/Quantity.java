// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

/**
 * A physical quantity: a number in base units and its kind.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param base the number, in the base unit of its kind; finite
 * @param dimension its kind
 */
public record Quantity(double base, Dimension dimension) {

  /** Checks that the number is finite. */
  public Quantity {
    if (!Double.isFinite(base)) {
      throw new IllegalArgumentException("a quantity is finite, found " + base);
    }
  }

  /** Prints it so that {@link Quantities#parse(String, Dimension)} gives the same number back. */
  @Override
  public String toString() {
    return Quantities.print(base, dimension);
  }
}
