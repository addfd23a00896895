// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.quantity.Dimension;

/** How parts are written in a datasheet: a map told by its {@code kind}. */
final class PartForms {
  private PartForms() {}

  static final Form<Part> PART = Forms.byWord("a part", "kind", kinds());

  private static Map<String, Form<? extends Part>> kinds() {
    Map<String, Form<? extends Part>> kinds = new LinkedHashMap<>();
    kinds.put("reference", reference());
    kinds.put("resistor", resistor());
    kinds.put("amplifier", amplifier());
    kinds.put("pass device", passDevice());
    kinds.put("series drop", seriesDrop());
    kinds.put("leakage", leakage());
    kinds.put("supply", supply());
    return kinds;
  }

  private static MapForm.Builder of(String kind) {
    MapForm.Builder map = MapForm.of("a " + kind);
    map.required("kind", Forms.choice(Map.of(kind, kind)), "what it is");
    return map;
  }

  private static Form<Part> reference() {
    MapForm.Builder map = of("reference");
    Key<Double> value = map.required("value", Forms.quantity(Dimension.VOLTAGE), "its voltage");
    Key<Double> tolerance =
        map.optional("tolerance", Forms.quantity(Dimension.RATIO), 0.0, "largest deviation");
    Key<Double> tempco =
        map.optional(
            "tempco", Forms.quantity(Dimension.RATIO_PER_KELVIN), 0.0, "largest change per kelvin");
    Key<Optional<Double>> curvature = curvature(map);
    return map.reads(
        v -> new Part.Reference(v.get(value), v.get(tolerance), v.get(tempco), v.get(curvature)));
  }

  private static Key<Optional<Double>> curvature(MapForm.Builder map) {
    return map.optional(
        "curvature",
        Forms.quantity(Dimension.RATIO_PER_KELVIN_SQUARED),
        "largest quadratic temperature coefficient, counted from the reference temperature");
  }

  private static Form<Part> resistor() {
    MapForm.Builder map = of("resistor");
    Key<Double> value =
        map.required("value", Forms.quantity(Dimension.RESISTANCE), "its resistance");
    Key<Double> tolerance =
        map.optional("tolerance", Forms.quantity(Dimension.RATIO), 0.0, "largest deviation");
    Key<Double> tempco =
        map.optional(
            "tempco", Forms.quantity(Dimension.RATIO_PER_KELVIN), 0.0, "largest change per kelvin");
    Key<Optional<Double>> curvature = curvature(map);
    Key<Optional<String>> network =
        map.optional("network", Forms.text("a network's name"), "the substrate it shares");
    Key<Optional<Double>> trackingTolerance =
        map.optional(
            "tracking tolerance",
            Forms.quantity(Dimension.RATIO),
            "largest deviation of a ratio within the network");
    Key<Optional<Double>> trackingTempco =
        map.optional(
            "tracking tempco",
            Forms.quantity(Dimension.RATIO_PER_KELVIN),
            "largest change of such a ratio per kelvin");
    return map.reads(
        v ->
            new Part.Resistor(
                v.get(value),
                v.get(tolerance),
                v.get(tempco),
                v.get(curvature),
                v.get(network),
                v.get(trackingTolerance),
                v.get(trackingTempco)));
  }

  private static Form<Part> amplifier() {
    MapForm.Builder map = of("amplifier");
    Key<Double> offset =
        map.optional("offset", Forms.quantity(Dimension.VOLTAGE), 0.0, "largest input offset");
    Key<Double> drift =
        map.optional(
            "drift", Forms.quantity(Dimension.VOLTAGE_PER_KELVIN), 0.0, "largest offset drift");
    Key<Double> bias =
        map.optional("bias", Forms.quantity(Dimension.CURRENT), 0.0, "largest input current");
    Key<Double> gain =
        map.optional("gain", Forms.quantity(Dimension.GAIN), 1e6, "open-loop gain; default 120 dB");
    return map.reads(
        v -> new Part.Amplifier(v.get(offset), v.get(drift), v.get(bias), v.get(gain)));
  }

  private static Form<Part> passDevice() {
    MapForm.Builder map = of("pass device");
    Map<String, Boolean> types = new LinkedHashMap<>();
    types.put("insulated gate", false);
    types.put("bipolar", true);
    Key<Boolean> type = map.required("type", Forms.choice(types), "insulated gate or bipolar");
    Key<Optional<Double>> beta =
        map.optional("beta", Forms.quantity(Dimension.NUMBER), "current gain of a bipolar one");
    Key<Optional<Double>> leakage =
        map.optional("gate leakage", Forms.quantity(Dimension.CURRENT), "of an insulated gate");
    return map.reads(v -> Part.PassDevice.of(v.get(type), v.get(beta), v.get(leakage)));
  }

  private static Form<Part> seriesDrop() {
    MapForm.Builder map = of("series drop");
    Key<Double> voltage = map.required("voltage", Forms.quantity(Dimension.VOLTAGE), "its drop");
    return map.reads(v -> new Part.SeriesDrop(v.get(voltage)));
  }

  private static Form<Part> leakage() {
    MapForm.Builder map = of("leakage");
    Key<Double> resistance =
        map.required("resistance", Forms.quantity(Dimension.RESISTANCE), "from output to ground");
    Key<Double> doubles =
        map.optional(
            "doubles every",
            Forms.quantity(Dimension.TEMPERATURE_DIFFERENCE),
            10.0,
            "by how much its conductance doubles; default 10 K");
    return map.reads(v -> new Part.Leakage(v.get(resistance), v.get(doubles)));
  }

  private static Form<Part> supply() {
    MapForm.Builder map = of("supply");
    Key<Double> voltage = map.required("voltage", Forms.quantity(Dimension.VOLTAGE), "its voltage");
    return map.reads(v -> new Part.Supply(v.get(voltage)));
  }
}
