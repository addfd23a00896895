// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import millrace.bench.BenchFile.Fixture;
import millrace.bench.BenchFile.Reproducibility;
import millrace.bench.BenchFile.Standard;
import millrace.bench.BenchFile.VoltmeterPlace;
import millrace.bench.BenchFile.Wiring;
import millrace.calibration.Shunt;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** How wiring and check standards are written in a bench file. */
final class WiringForms {
  private WiringForms() {}

  private static final YamlForm<Double> ABOVE_0_OHM =
      YamlForms.above0(Dimension.RESISTANCE, "a resistance above 0 ohm");

  private static final YamlForm<Reproducibility> REPRODUCIBILITY =
      YamlMapForm.of(
          "a scatter from connection to connection",
          map ->
              new Reproducibility(
                  map.optional(
                      "range", Dimension.CURRENT, "nominal current it is for; default all"),
                  map.required("u", Dimension.RATIO, "standard deviation of one, of the current"),
                  map.required("connections", connections(), "how many it was found from")));

  private static YamlForm<Integer> connections() {
    return YamlForms.map(
        YamlForms.where(
            YamlForms.quantity(Dimension.NUMBER),
            n -> n >= 2 && n == Math.rint(n) && n < 1e6,
            "a whole number of 2 or more"),
        Double::intValue);
  }

  private static final YamlForm<Fixture> FIXTURE =
      YamlMapForm.of(
          "a conductance",
          map ->
              new Fixture(
                  map.required("value", Dimension.CONDUCTANCE, "its value"),
                  map.required("u", Dimension.CONDUCTANCE, "its standard uncertainty")));

  private static final YamlForm<Shunt> SHUNT =
      YamlMapForm.of(
          "a shunt",
          map ->
              new Shunt(
                  map.required("value", ABOVE_0_OHM, "R_cal"),
                  map.required("u", Dimension.RATIO, "its standard uncertainty"),
                  map.optional("tempco", Dimension.RATIO_PER_KELVIN, 0.0, "a"),
                  map.optional("quadratic tempco", Dimension.RATIO_PER_KELVIN_SQUARED, 0.0, "b"),
                  map.optional("power coefficient", Dimension.RATIO_PER_WATT, 0.0, "p"),
                  map.optional(
                      "calibrated at", Dimension.TEMPERATURE, 23.0, "T_cal; default 23 degC"),
                  map.optional("calibrated power", Dimension.POWER, 0.0, "P_cal")));

  static final YamlForm<Wiring> WIRING =
      YamlMapForm.of(
          "the wiring",
          map ->
              new Wiring(
                  map.optional(
                      "voltmeter",
                      YamlForms.choice(VoltmeterPlace.values(), VoltmeterPlace::text),
                      "upstream or across load"),
                  map.optional("leads", Dimension.RESISTANCE, 0.0, "resistance in the loop"),
                  map.optional("guarded", YamlForms.yesNo(), false, "default no"),
                  map.optional("cable capacitance", Dimension.CAPACITANCE, 0.0, "of the loop"),
                  map.optional(
                      "insulation",
                      ABOVE_0_OHM,
                      "of leads and fixture to ground, as wired, where they leak most"),
                  map.optional("shunt", SHUNT, "what the shunt voltmeter reads"),
                  map.optional("fixture conductance", FIXTURE, "measured or bounded"),
                  map.optional(
                      "set-up reproducibility",
                      YamlForms.list(REPRODUCIBILITY, 0),
                      List.of(),
                      "scatter from connection to connection of a unit"),
                  map.optional(
                      "off leakage",
                      YamlForms.from0(Dimension.CURRENT, "a current of 0 A or more"),
                      "what flows at most with the source off, for zeros without a switch")));

  static final YamlForm<Standard> STANDARD =
      YamlMapForm.of(
          "a check standard",
          map ->
              new Standard(
                  map.required(
                      "position", YamlForms.text("a switch position"), "its switch position"),
                  map.required("current", Dimension.CURRENT, "what it drives"),
                  map.required("u", Dimension.CURRENT, "its standard uncertainty"),
                  map.optional(
                      "stability",
                      Dimension.RATIO,
                      0.0,
                      "how far it may move over a night; default not at all")));
}
