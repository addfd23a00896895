// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Map;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Finds the kind of quantity of a result from its unit. */
final class ResultDimension {
  private static final MathContext DIGITS = new MathContext(12);
  private static final Map<String, Dimension> BY_UNIT =
      Map.of(
          "A", Dimension.CURRENT,
          "V", Dimension.VOLTAGE,
          "S", Dimension.CONDUCTANCE,
          "ohm", Dimension.RESISTANCE,
          "s", Dimension.TIME,
          "degC", Dimension.TEMPERATURE,
          "ppm", Dimension.RATIO,
          "ppm/V", Dimension.RATIO_PER_VOLT,
          "ppm/K", Dimension.RATIO_PER_KELVIN,
          "ppm/K2", Dimension.RATIO_PER_KELVIN_SQUARED);

  private ResultDimension() {}

  static Dimension of(ResultQuantity quantity) {
    return quantity == ResultQuantity.DRIFT
        ? Dimension.RATIO_PER_TIME
        : BY_UNIT.get(quantity.unit());
  }

  /** Converts a value from base units to the unit of the result, without rounding digits. */
  static double count(double base, ResultQuantity quantity) {
    double size = QuantityText.parse("1 " + quantity.unit(), of(quantity));
    return tidy(base / size);
  }

  /** 5 ppm/K remains 5 and does not become 5.000000000000001. */
  static double tidy(double value) {
    return new BigDecimal(value).round(DIGITS).doubleValue();
  }
}
