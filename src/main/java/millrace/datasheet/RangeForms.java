// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.datasheet.Datasheet.FirstStage;
import millrace.datasheet.Datasheet.MadeFrom;
import millrace.datasheet.Datasheet.Range;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How ranges are written in a datasheet. */
final class RangeForms {
  private RangeForms() {}

  static final YamlForm<Map<String, Range>> RANGES =
      YamlForms.map(
          YamlForms.where(
              YamlForms.named("names of ranges", range()), m -> !m.isEmpty(), "at least one range"),
          RangeForms::named);

  private static Map<String, Range> named(Map<String, Range> ranges) {
    Map<String, Range> named = new LinkedHashMap<>();
    ranges.forEach(
        (name, r) ->
            named.put(
                name,
                new Range(
                    name, r.nominalA(), r.referenceLoadOhm(), r.complianceV(), r.madeFrom())));
    return Collections.unmodifiableMap(named);
  }

  private static YamlForm<Range> range() {
    YamlMapForm.Builder map = YamlMapForm.of("a range");
    Key<Double> nominal =
        map.required(
            "nominal",
            YamlForms.where(
                YamlForms.quantity(Dimension.CURRENT),
                a -> a != 0,
                "a nominal current that is not 0"),
            "its nominal current");
    Key<Optional<Double>> load =
        map.optional(
            "reference load",
            YamlForms.where(
                YamlForms.quantity(Dimension.RESISTANCE),
                r -> r >= 0,
                "a resistance of 0 ohm or more"),
            "the load at which the current is promised; default a short");
    Key<Optional<Double>> compliance =
        map.optional(
            "compliance voltage",
            YamlForms.quantity(Dimension.VOLTAGE),
            "where it differs from the datasheet's");
    Key<Optional<MadeFrom>> made = map.optional("made from", madeFrom(), "its parts");
    return map.reads(
        v -> new Range("(range)", v.get(nominal), v.get(load), v.get(compliance), v.get(made)));
  }

  private static YamlForm<MadeFrom> madeFrom() {
    YamlForm<String> part = YamlForms.text("the name of a part");
    YamlMapForm.Builder map = YamlMapForm.of("what a range is made from");
    Key<String> reference = map.required("reference", part, "the reference");
    Key<Optional<Double>> set =
        map.optional(
            "set voltage",
            YamlForms.quantity(Dimension.VOLTAGE),
            "held across the resistor; default what the reference and the first stage give");
    Key<String> resistor = map.required("resistor", part, "the range resistor");
    Key<Optional<String>> amplifier = map.optional("amplifier", part, "the amplifier");
    Key<Optional<String>> pass = map.optional("pass device", part, "the pass device");
    Key<List<String>> series =
        map.optional(
            "series", YamlForms.list(part, 0), List.of(), "drops in series with the output");
    Key<Optional<String>> leakage = map.optional("leakage", part, "leakage at the output");
    Key<Optional<String>> supply = map.optional("supply", part, "what feeds it");
    Key<Optional<FirstStage>> stage =
        map.optional(
            "first stage",
            firstStage(part),
            "what makes the set voltage from the reference: a current, and a top resistor that"
                + " drops it");
    Key<List<String>> taps =
        map.optional(
            "taps",
            YamlForms.list(part, 0),
            List.of(),
            "further resistors of a tapped string, in series with the range resistor");
    return map.reads(
        v ->
            new MadeFrom(
                v.get(reference),
                v.get(set),
                v.get(resistor),
                v.get(amplifier),
                v.get(pass),
                v.get(series),
                v.get(leakage),
                v.get(supply),
                v.get(stage),
                v.get(taps)));
  }

  private static YamlForm<FirstStage> firstStage(YamlForm<String> part) {
    YamlMapForm.Builder map = YamlMapForm.of("a first stage");
    Key<String> resistor = map.required("resistor", part, "what the reference lies across");
    Key<List<String>> top =
        map.required(
            "top",
            YamlForms.list(part, 1),
            "the resistors that drop the set voltage, from the rail to the tap");
    Key<Optional<String>> amplifier =
        map.optional("amplifier", part, "what holds the reference across the resistor");
    return map.reads(v -> new FirstStage(v.get(resistor), v.get(top), v.get(amplifier)));
  }
}
