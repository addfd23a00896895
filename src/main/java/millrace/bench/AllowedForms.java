// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Optional;
import java.util.function.Function;
import millrace.bench.role.RoleName;
import millrace.calibration.Band;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.quantity.Dimension;

/** How a bench file says what an instrument may be told. */
final class AllowedForms {
  private AllowedForms() {}

  /** Adds the keys of a role to its facts. */
  static Function<MapForm.Values, Allowed> keys(MapForm.Builder map, RoleName role) {
    return switch (role) {
      case SUPPLY -> supplyKeys(map);
      case CHAMBER -> chamberKeys(map);
      case CURRENT_METER, VOLTMETER, SHUNT_VOLTMETER -> meterKeys(map);
      default -> v -> Allowed.NONE;
    };
  }

  private static Function<MapForm.Values, Allowed> supplyKeys(MapForm.Builder map) {
    Key<Optional<Allowed>> most =
        map.optional(
            "at most", most(), "what the supply may be told; a bench is not used without it");
    return v -> v.get(most).orElse(Allowed.NONE);
  }

  private static Form<Allowed> most() {
    MapForm.Builder map = MapForm.of("what a supply may be told at most");
    Key<Double> volts =
        map.required(
            "voltage",
            Forms.where(Forms.quantity(Dimension.VOLTAGE), v -> v >= 0, "a voltage of 0 V or more"),
            "largest voltage");
    Key<Double> amperes =
        map.required(
            "current",
            Forms.where(Forms.quantity(Dimension.CURRENT), a -> a > 0, "a current above 0 A"),
            "largest current, also the limit that the supply is set to");
    return map.reads(v -> Allowed.supply(v.get(volts), v.get(amperes)));
  }

  private static Function<MapForm.Values, Allowed> chamberKeys(MapForm.Builder map) {
    Key<Optional<Band>> between =
        map.optional(
            "between",
            AccuracyForms.band(Dimension.TEMPERATURE),
            "lowest and highest set point; a bench is not used without it");
    Key<Optional<Double>> ramp =
        map.optional(
            "ramp at most",
            Forms.where(
                Forms.quantity(Dimension.TEMPERATURE_RATE), r -> r > 0, "a rate above 0 K/min"),
            "fastest ramp that the chamber is told; a bench is not used without it");
    return v -> Allowed.chamber(v.get(between), v.get(ramp));
  }

  private static Function<MapForm.Values, Allowed> meterKeys(MapForm.Builder map) {
    Key<Optional<Double>> input =
        map.optional(
            "input at most",
            Forms.where(Forms.quantity(Dimension.VOLTAGE), v -> v > 0, "a voltage above 0 V"),
            "largest voltage that its input bears");
    return v -> Allowed.input(v.get(input));
  }
}
