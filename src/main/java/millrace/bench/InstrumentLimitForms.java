// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import millrace.bench.role.RoleName;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** How a bench file states the limits of an instrument's set points. */
final class InstrumentLimitForms {
  private InstrumentLimitForms() {}

  private static final YamlForm<InstrumentLimits> SUPPLY =
      YamlMapForm.of(
          "the highest settings of a supply",
          map ->
              InstrumentLimits.supply(
                  map.required(
                      "voltage",
                      YamlForms.from0(Dimension.VOLTAGE, "a voltage of 0 V or more"),
                      "largest voltage"),
                  map.required(
                      "current",
                      YamlForms.above0(Dimension.CURRENT, "a current above 0 A"),
                      "largest current, also the limit that the supply is set to")));

  /** The keys of a role among its facts. */
  static InstrumentLimits of(YamlKeys map, RoleName role) {
    return switch (role) {
      case SUPPLY ->
          map.optional(
              "at most",
              SUPPLY,
              InstrumentLimits.NONE,
              "the highest setting of the supply; a bench is not used without it");
      case CHAMBER -> chamber(map);
      case CURRENT_METER, VOLTMETER, SHUNT_VOLTMETER ->
          InstrumentLimits.input(
              map.optional(
                  "input at most",
                  YamlForms.above0(Dimension.VOLTAGE, "a voltage above 0 V"),
                  "largest voltage that its input bears"));
      default -> InstrumentLimits.NONE;
    };
  }

  private static InstrumentLimits chamber(YamlKeys map) {
    return InstrumentLimits.chamber(
        map.optional(
            "between",
            AccuracyForms.band(Dimension.TEMPERATURE),
            "lowest and highest set point; a bench is not used without it"),
        map.optional(
            "ramp at most",
            YamlForms.above0(Dimension.TEMPERATURE_RATE, "a rate above 0 K/min"),
            "fastest ramp that the chamber is set to; a bench is not used without it"));
  }
}
