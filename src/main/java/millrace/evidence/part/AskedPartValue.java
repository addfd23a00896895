// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.part;

import java.util.OptionalDouble;
import millrace.quantity.QuantityText;

/**
 * A value that a person is asked for.
 *
 * @param quantity the quantity to measure
 * @param of the part, by its name in the datasheet; of a current the range
 * @param relativeU standard uncertainty of the answer as a share of it, 0 or more
 * @param absoluteU absolute part of the standard uncertainty, in base units of the quantity, 0 or
 *     more; one of both above 0
 * @param terminalV voltage at the terminals meanwhile, V; empty: into a short, or off
 */
public record AskedPartValue(
    PartQuantity quantity,
    String of,
    double relativeU,
    double absoluteU,
    OptionalDouble terminalV) {
  /** Checks that the uncertainty is above 0. */
  public AskedPartValue {
    if (!(relativeU >= 0) || !(absoluteU >= 0) || !(relativeU + absoluteU > 0)) {
      throw new IllegalArgumentException(
          "an answer with a standard uncertainty of %s of it and %s; expected one above 0"
              .formatted(relativeU, absoluteU));
    }
  }

  /**
   * The value from an answer.
   *
   * @param answer what a person typed, such as {@code 2.5003 kohm}
   * @param degC temperature of the unit, degC; empty if nobody set one
   * @return the value
   * @throws millrace.quantity.QuantityException if it is none of the quantity's kind
   */
  public PartValue answered(String answer, OptionalDouble degC) {
    double value = QuantityText.parse(answer, quantity.dimension());
    return new PartValue(quantity, of, value, standardUncertainty(value), degC, terminalV);
  }

  /**
   * The standard uncertainty of a value.
   *
   * @param value in base units of the quantity
   * @return u, in the same unit
   */
  public double standardUncertainty(double value) {
    return Math.hypot(relativeU * value, absoluteU);
  }
}
