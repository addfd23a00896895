package millrace.datasheet;

import java.util.Map;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;

/** Which kind of quantity a result is, from the unit that its values are counted in. */
final class Dimensions {
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

  private Dimensions() {}

  static Dimension of(ResultQuantity quantity) {
    return quantity == ResultQuantity.DRIFT
        ? Dimension.RATIO_PER_TIME
        : BY_UNIT.get(quantity.unit());
  }

  /** How many base units one unit of the result is. */
  static double unitSize(ResultQuantity quantity) {
    return Quantities.parse("1 " + quantity.unit(), of(quantity));
  }
}
