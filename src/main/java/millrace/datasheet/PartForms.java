// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How parts are written in a datasheet: a map told by its {@code kind}. */
final class PartForms {
  private PartForms() {}

  static final YamlForm<DatasheetPart> PART = YamlForms.byWord("a part", "kind", kinds());

  private static Map<String, YamlForm<? extends DatasheetPart>> kinds() {
    Map<String, YamlForm<? extends DatasheetPart>> kinds = new LinkedHashMap<>();
    kinds.put("reference", reference());
    kinds.put("resistor", resistor());
    kinds.put("amplifier", amplifier());
    kinds.put("pass device", passDevice());
    kinds.put("series drop", seriesDrop());
    kinds.put("leakage", leakage());
    kinds.put("supply", supply());
    return kinds;
  }

  private static YamlMapForm.Builder of(String kind) {
    YamlMapForm.Builder map = YamlMapForm.of("a " + kind);
    map.required("kind", YamlForms.choice(Map.of(kind, kind)), "what it is");
    return map;
  }

  private static YamlForm<DatasheetPart> reference() {
    YamlMapForm.Builder map = of("reference");
    Key<Double> value = map.required("value", YamlForms.quantity(Dimension.VOLTAGE), "its voltage");
    Key<Double> tolerance =
        map.optional("tolerance", YamlForms.quantity(Dimension.RATIO), 0.0, "largest deviation");
    Key<Double> tempco =
        map.optional(
            "tempco",
            YamlForms.quantity(Dimension.RATIO_PER_KELVIN),
            0.0,
            "largest change per kelvin");
    Key<Optional<Double>> curvature = curvature(map);
    return map.reads(
        v ->
            new DatasheetPart.Reference(
                v.get(value), v.get(tolerance), v.get(tempco), v.get(curvature)));
  }

  private static Key<Optional<Double>> curvature(YamlMapForm.Builder map) {
    return map.optional(
        "curvature",
        YamlForms.quantity(Dimension.RATIO_PER_KELVIN_SQUARED),
        "largest quadratic temperature coefficient, counted from the reference temperature");
  }

  private static YamlForm<DatasheetPart> resistor() {
    YamlMapForm.Builder map = of("resistor");
    Key<Double> value =
        map.required("value", YamlForms.quantity(Dimension.RESISTANCE), "its resistance");
    Key<Double> tolerance =
        map.optional("tolerance", YamlForms.quantity(Dimension.RATIO), 0.0, "largest deviation");
    Key<Double> tempco =
        map.optional(
            "tempco",
            YamlForms.quantity(Dimension.RATIO_PER_KELVIN),
            0.0,
            "largest change per kelvin");
    Key<Optional<Double>> curvature = curvature(map);
    Key<Optional<String>> network =
        map.optional("network", YamlForms.text("a network's name"), "the substrate it shares");
    Key<Optional<Double>> trackingTolerance =
        map.optional(
            "tracking tolerance",
            YamlForms.quantity(Dimension.RATIO),
            "largest deviation of a ratio within the network");
    Key<Optional<Double>> trackingTempco =
        map.optional(
            "tracking tempco",
            YamlForms.quantity(Dimension.RATIO_PER_KELVIN),
            "largest change of such a ratio per kelvin");
    return map.reads(
        v ->
            new DatasheetPart.Resistor(
                v.get(value),
                v.get(tolerance),
                v.get(tempco),
                v.get(curvature),
                v.get(network),
                v.get(trackingTolerance),
                v.get(trackingTempco)));
  }

  private static YamlForm<DatasheetPart> amplifier() {
    YamlMapForm.Builder map = of("amplifier");
    Key<Double> offset =
        map.optional("offset", YamlForms.quantity(Dimension.VOLTAGE), 0.0, "largest input offset");
    Key<Double> drift =
        map.optional(
            "drift", YamlForms.quantity(Dimension.VOLTAGE_PER_KELVIN), 0.0, "largest offset drift");
    Key<Double> bias =
        map.optional("bias", YamlForms.quantity(Dimension.CURRENT), 0.0, "largest input current");
    Key<Double> gain =
        map.optional(
            "gain", YamlForms.quantity(Dimension.GAIN), 1e6, "open-loop gain; default 120 dB");
    return map.reads(
        v -> new DatasheetPart.Amplifier(v.get(offset), v.get(drift), v.get(bias), v.get(gain)));
  }

  private static YamlForm<DatasheetPart> passDevice() {
    YamlMapForm.Builder map = of("pass device");
    Map<String, Boolean> types = new LinkedHashMap<>();
    types.put("insulated gate", false);
    types.put("bipolar", true);
    Key<Boolean> type = map.required("type", YamlForms.choice(types), "insulated gate or bipolar");
    Key<Optional<Double>> beta =
        map.optional("beta", YamlForms.quantity(Dimension.NUMBER), "current gain of a bipolar one");
    Key<Optional<Double>> leakage =
        map.optional("gate leakage", YamlForms.quantity(Dimension.CURRENT), "of an insulated gate");
    return map.reads(v -> DatasheetPart.PassDevice.of(v.get(type), v.get(beta), v.get(leakage)));
  }

  private static YamlForm<DatasheetPart> seriesDrop() {
    YamlMapForm.Builder map = of("series drop");
    Key<Double> voltage =
        map.required("voltage", YamlForms.quantity(Dimension.VOLTAGE), "its drop");
    return map.reads(v -> new DatasheetPart.SeriesDrop(v.get(voltage)));
  }

  private static YamlForm<DatasheetPart> leakage() {
    YamlMapForm.Builder map = of("leakage");
    Key<Double> resistance =
        map.required(
            "resistance", YamlForms.quantity(Dimension.RESISTANCE), "from output to ground");
    Key<Double> doubles =
        map.optional(
            "doubles every",
            YamlForms.quantity(Dimension.TEMPERATURE_DIFFERENCE),
            10.0,
            "by how much its conductance doubles; default 10 K");
    return map.reads(v -> new DatasheetPart.Leakage(v.get(resistance), v.get(doubles)));
  }

  private static YamlForm<DatasheetPart> supply() {
    YamlMapForm.Builder map = of("supply");
    Key<Double> voltage =
        map.required("voltage", YamlForms.quantity(Dimension.VOLTAGE), "its voltage");
    return map.reads(v -> new DatasheetPart.Supply(v.get(voltage)));
  }
}
