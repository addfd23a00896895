// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import java.util.Optional;
import millrace.bench.BenchFile.Fixture;
import millrace.bench.BenchFile.Reproducibility;
import millrace.bench.BenchFile.Standard;
import millrace.bench.BenchFile.VoltmeterPlace;
import millrace.bench.BenchFile.Wiring;
import millrace.calibration.Shunt;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How wiring and check standards are written in a bench file. */
final class WiringForms {
  private WiringForms() {}

  static final YamlForm<Wiring> WIRING = wiring();
  static final YamlForm<Standard> STANDARD = standard();

  private static YamlForm<Wiring> wiring() {
    YamlMapForm.Builder map = YamlMapForm.of("the wiring");
    Key<Optional<VoltmeterPlace>> voltmeter =
        map.optional(
            "voltmeter",
            YamlForms.choice(VoltmeterPlace.values(), VoltmeterPlace::text),
            "upstream or across load");
    Key<Double> leads =
        map.optional(
            "leads", YamlForms.quantity(Dimension.RESISTANCE), 0.0, "resistance in the loop");
    Key<Boolean> guarded = map.optional("guarded", YamlForms.yesNo(), false, "default no");
    Key<Double> cable =
        map.optional(
            "cable capacitance", YamlForms.quantity(Dimension.CAPACITANCE), 0.0, "of the loop");
    Key<Optional<Double>> insulation =
        map.optional(
            "insulation",
            YamlForms.where(
                YamlForms.quantity(Dimension.RESISTANCE), r -> r > 0, "a resistance above 0 ohm"),
            "of leads and fixture to ground, as wired, where they leak most");
    Key<Optional<Shunt>> shunt = map.optional("shunt", shunt(), "what the shunt voltmeter reads");
    Key<Optional<Fixture>> fixture =
        map.optional("fixture conductance", fixture(), "measured or bounded");
    Key<List<Reproducibility>> reproducibility =
        map.optional(
            "set-up reproducibility",
            YamlForms.list(reproducibility(), 0),
            List.of(),
            "scatter from connection to connection of a unit");
    Key<Optional<Double>> off =
        map.optional(
            "off leakage",
            YamlForms.where(
                YamlForms.quantity(Dimension.CURRENT), a -> a >= 0, "a current of 0 A or more"),
            "what flows at most with the source off, for zeros without a switch");
    return map.reads(
        v ->
            new Wiring(
                v.get(voltmeter),
                v.get(leads),
                v.get(guarded),
                v.get(cable),
                v.get(insulation),
                v.get(shunt),
                v.get(fixture),
                v.get(reproducibility),
                v.get(off)));
  }

  private static YamlForm<Reproducibility> reproducibility() {
    YamlMapForm.Builder map = YamlMapForm.of("a scatter from connection to connection");
    Key<Optional<Double>> range =
        map.optional(
            "range",
            YamlForms.quantity(Dimension.CURRENT),
            "nominal current it is for; default all");
    Key<Double> u =
        map.required(
            "u", YamlForms.quantity(Dimension.RATIO), "standard deviation of one, of the current");
    Key<Double> connections =
        map.required(
            "connections",
            YamlForms.where(
                YamlForms.quantity(Dimension.NUMBER),
                n -> n >= 2 && n == Math.rint(n) && n < 1e6,
                "a whole number of 2 or more"),
            "how many it was found from");
    return map.reads(
        v -> new Reproducibility(v.get(range), v.get(u), v.get(connections).intValue()));
  }

  private static YamlForm<Fixture> fixture() {
    YamlMapForm.Builder map = YamlMapForm.of("a conductance");
    Key<Double> value =
        map.required("value", YamlForms.quantity(Dimension.CONDUCTANCE), "its value");
    Key<Double> u =
        map.required("u", YamlForms.quantity(Dimension.CONDUCTANCE), "its standard uncertainty");
    return map.reads(v -> new Fixture(v.get(value), v.get(u)));
  }

  private static YamlForm<Shunt> shunt() {
    YamlMapForm.Builder map = YamlMapForm.of("a shunt");
    YamlForm<Double> perK = YamlForms.quantity(Dimension.RATIO_PER_KELVIN);
    Key<Double> value =
        map.required(
            "value",
            YamlForms.where(
                YamlForms.quantity(Dimension.RESISTANCE), r -> r > 0, "a resistance above 0 ohm"),
            "R_cal");
    Key<Double> u =
        map.required("u", YamlForms.quantity(Dimension.RATIO), "its standard uncertainty");
    Key<Double> a = map.optional("tempco", perK, 0.0, "a");
    Key<Double> b =
        map.optional(
            "quadratic tempco", YamlForms.quantity(Dimension.RATIO_PER_KELVIN_SQUARED), 0.0, "b");
    Key<Double> p =
        map.optional("power coefficient", YamlForms.quantity(Dimension.RATIO_PER_WATT), 0.0, "p");
    Key<Double> t =
        map.optional(
            "calibrated at",
            YamlForms.quantity(Dimension.TEMPERATURE),
            23.0,
            "T_cal; default 23 degC");
    Key<Double> power =
        map.optional("calibrated power", YamlForms.quantity(Dimension.POWER), 0.0, "P_cal");
    return map.reads(
        v ->
            new Shunt(
                v.get(value), v.get(u), v.get(a), v.get(b), v.get(p), v.get(t), v.get(power)));
  }

  private static YamlForm<Standard> standard() {
    YamlMapForm.Builder map = YamlMapForm.of("a check standard");
    Key<String> position =
        map.required("position", YamlForms.text("a switch position"), "its switch position");
    Key<Double> current =
        map.required("current", YamlForms.quantity(Dimension.CURRENT), "what it drives");
    Key<Double> u =
        map.required("u", YamlForms.quantity(Dimension.CURRENT), "its standard uncertainty");
    Key<Double> stability =
        map.optional(
            "stability",
            YamlForms.quantity(Dimension.RATIO),
            0.0,
            "how far it may move over a night; default not at all");
    return map.reads(
        v -> new Standard(v.get(position), v.get(current), v.get(u), v.get(stability)));
  }
}
