// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** The form of parts in a datasheet: a map with the type under {@code kind}. */
final class PartForms {
  private PartForms() {}

  static final YamlForm<DatasheetPart> PART = YamlForms.byWord("a part", "kind", kinds());

  private static Map<String, YamlForm<? extends DatasheetPart>> kinds() {
    Map<String, YamlForm<? extends DatasheetPart>> kinds = new LinkedHashMap<>();
    put(kinds, "reference", PartForms::reference);
    put(kinds, "resistor", PartForms::resistor);
    put(kinds, "amplifier", PartForms::amplifier);
    put(kinds, "pass device", PartForms::passDevice);
    put(
        kinds,
        "series drop",
        map ->
            new DatasheetPart.SeriesDrop(map.required("voltage", Dimension.VOLTAGE, "its drop")));
    put(kinds, "leakage", PartForms::leakage);
    put(
        kinds,
        "supply",
        map -> new DatasheetPart.Supply(map.required("voltage", Dimension.VOLTAGE, "its voltage")));
    return kinds;
  }

  /** Each kind is a map of its own, including the key {@code kind}. */
  private static void put(
      Map<String, YamlForm<? extends DatasheetPart>> kinds,
      String kind,
      Function<YamlKeys, DatasheetPart> make) {
    YamlForm<DatasheetPart> form =
        YamlMapForm.of(
            "a " + kind,
            map -> {
              map.required("kind", YamlForms.choice(Map.of(kind, kind)), "what it is");
              return make.apply(map);
            });
    kinds.put(kind, form);
  }

  private static DatasheetPart reference(YamlKeys map) {
    return new DatasheetPart.Reference(
        map.required("value", Dimension.VOLTAGE, "its voltage"),
        tolerance(map),
        tempco(map),
        curvature(map));
  }

  private static double tolerance(YamlKeys map) {
    return map.optional("tolerance", Dimension.RATIO, 0.0, "largest deviation");
  }

  private static double tempco(YamlKeys map) {
    return map.optional("tempco", Dimension.RATIO_PER_KELVIN, 0.0, "largest change per kelvin");
  }

  private static Optional<Double> curvature(YamlKeys map) {
    return map.optional(
        "curvature",
        Dimension.RATIO_PER_KELVIN_SQUARED,
        "largest quadratic temperature coefficient, counted from the reference temperature");
  }

  private static DatasheetPart resistor(YamlKeys map) {
    return new DatasheetPart.Resistor(
        map.required("value", Dimension.RESISTANCE, "its resistance"),
        tolerance(map),
        tempco(map),
        curvature(map),
        map.optional("network", YamlForms.text("a network's name"), "the substrate it shares"),
        map.optional(
            "tracking tolerance",
            Dimension.RATIO,
            "largest deviation of a ratio within the network"),
        map.optional(
            "tracking tempco",
            Dimension.RATIO_PER_KELVIN,
            "largest change of such a ratio per kelvin"));
  }

  private static DatasheetPart amplifier(YamlKeys map) {
    return new DatasheetPart.Amplifier(
        map.optional("offset", Dimension.VOLTAGE, 0.0, "largest input offset"),
        map.optional("drift", Dimension.VOLTAGE_PER_KELVIN, 0.0, "largest offset drift"),
        map.optional("bias", Dimension.CURRENT, 0.0, "largest input current"),
        map.optional("gain", Dimension.GAIN, 1e6, "open-loop gain; default 120 dB"));
  }

  private static DatasheetPart passDevice(YamlKeys map) {
    Map<String, Boolean> bipolar = new LinkedHashMap<>();
    bipolar.put("insulated gate", false);
    bipolar.put("bipolar", true);
    return DatasheetPart.PassDevice.of(
        map.required("type", YamlForms.choice(bipolar), "insulated gate or bipolar"),
        map.optional("beta", Dimension.NUMBER, "current gain of a bipolar one"),
        map.optional("gate leakage", Dimension.CURRENT, "of an insulated gate"));
  }

  private static DatasheetPart leakage(YamlKeys map) {
    return new DatasheetPart.Leakage(
        map.required("resistance", Dimension.RESISTANCE, "from output to ground"),
        map.optional(
            "doubles every",
            Dimension.TEMPERATURE_DIFFERENCE,
            10.0,
            "by how much its conductance doubles; default 10 K"));
  }
}
