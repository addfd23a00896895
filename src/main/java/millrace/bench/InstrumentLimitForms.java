// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Optional;
import java.util.function.Function;
import millrace.bench.role.RoleName;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;

/** How a bench file says what an instrument may be told. */
final class InstrumentLimitForms {
  private InstrumentLimitForms() {}

  /** Adds the keys of a role to its facts. */
  static Function<YamlMapForm.Values, InstrumentLimits> keys(
      YamlMapForm.Builder map, RoleName role) {
    return switch (role) {
      case SUPPLY -> supplyKeys(map);
      case CHAMBER -> chamberKeys(map);
      case CURRENT_METER, VOLTMETER, SHUNT_VOLTMETER -> meterKeys(map);
      default -> v -> InstrumentLimits.NONE;
    };
  }

  private static Function<YamlMapForm.Values, InstrumentLimits> supplyKeys(
      YamlMapForm.Builder map) {
    Key<Optional<InstrumentLimits>> most =
        map.optional(
            "at most", most(), "what the supply may be told; a bench is not used without it");
    return v -> v.get(most).orElse(InstrumentLimits.NONE);
  }

  private static YamlForm<InstrumentLimits> most() {
    YamlMapForm.Builder map = YamlMapForm.of("what a supply may be told at most");
    Key<Double> volts =
        map.required(
            "voltage",
            YamlForms.where(
                YamlForms.quantity(Dimension.VOLTAGE), v -> v >= 0, "a voltage of 0 V or more"),
            "largest voltage");
    Key<Double> amperes =
        map.required(
            "current",
            YamlForms.where(
                YamlForms.quantity(Dimension.CURRENT), a -> a > 0, "a current above 0 A"),
            "largest current, also the limit that the supply is set to");
    return map.reads(v -> InstrumentLimits.supply(v.get(volts), v.get(amperes)));
  }

  private static Function<YamlMapForm.Values, InstrumentLimits> chamberKeys(
      YamlMapForm.Builder map) {
    Key<Optional<ClosedInterval>> between =
        map.optional(
            "between",
            AccuracyForms.band(Dimension.TEMPERATURE),
            "lowest and highest set point; a bench is not used without it");
    Key<Optional<Double>> ramp =
        map.optional(
            "ramp at most",
            YamlForms.where(
                YamlForms.quantity(Dimension.TEMPERATURE_RATE), r -> r > 0, "a rate above 0 K/min"),
            "fastest ramp that the chamber is told; a bench is not used without it");
    return v -> InstrumentLimits.chamber(v.get(between), v.get(ramp));
  }

  private static Function<YamlMapForm.Values, InstrumentLimits> meterKeys(YamlMapForm.Builder map) {
    Key<Optional<Double>> input =
        map.optional(
            "input at most",
            YamlForms.where(
                YamlForms.quantity(Dimension.VOLTAGE), v -> v > 0, "a voltage above 0 V"),
            "largest voltage that its input bears");
    return v -> InstrumentLimits.input(v.get(input));
  }
}
