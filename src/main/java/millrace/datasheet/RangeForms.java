// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.List;
import java.util.Map;
import millrace.datasheet.Datasheet.FirstStage;
import millrace.datasheet.Datasheet.MadeFrom;
import millrace.datasheet.Datasheet.Range;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** The form of ranges in a datasheet. */
final class RangeForms {
  private RangeForms() {}

  private static final YamlForm<String> PART = YamlForms.text("the name of a part");

  static final YamlForm<Map<String, Range>> RANGES =
      YamlForms.where(
          YamlForms.named("names of ranges", RangeForms::range),
          m -> !m.isEmpty(),
          "at least one range");

  private static YamlForm<Range> range(String name) {
    return YamlMapForm.of(
        "a range",
        map ->
            new Range(
                name,
                map.required(
                    "nominal",
                    YamlForms.where(
                        YamlForms.quantity(Dimension.CURRENT),
                        a -> a != 0,
                        "a nominal current that is not 0"),
                    "its nominal current"),
                map.optional(
                    "reference load",
                    YamlForms.from0(Dimension.RESISTANCE, "a resistance of 0 ohm or more"),
                    "the load at which the current is promised; default a short"),
                map.optional(
                    "compliance voltage",
                    Dimension.VOLTAGE,
                    "where it differs from the datasheet's"),
                map.optional("made from", madeFrom(), "its parts")));
  }

  private static YamlForm<MadeFrom> madeFrom() {
    return YamlMapForm.of(
        "what a range is made from",
        map ->
            new MadeFrom(
                map.required("reference", PART, "the reference"),
                map.optional(
                    "set voltage",
                    Dimension.VOLTAGE,
                    "held across the resistor; default what the reference and the first stage"
                        + " give"),
                map.required("resistor", PART, "the range resistor"),
                map.optional("amplifier", PART, "the amplifier"),
                map.optional("pass device", PART, "the pass device"),
                map.optional(
                    "series",
                    YamlForms.list(PART, 0),
                    List.of(),
                    "drops in series with the output"),
                map.optional("leakage", PART, "leakage at the output"),
                map.optional("supply", PART, "what feeds it"),
                map.optional(
                    "first stage",
                    firstStage(),
                    "what makes the set voltage from the reference: a current, and a top resistor"
                        + " that drops it"),
                map.optional(
                    "taps",
                    YamlForms.list(PART, 0),
                    List.of(),
                    "further resistors of a tapped string, in series with the range resistor")));
  }

  private static YamlForm<FirstStage> firstStage() {
    return YamlMapForm.of(
        "a first stage",
        map ->
            new FirstStage(
                map.required("resistor", PART, "what the reference lies across"),
                map.required(
                    "top",
                    YamlForms.list(PART, 1),
                    "the resistors that drop the set voltage, from the rail to the tap"),
                map.optional("amplifier", PART, "what holds the reference across the resistor")));
  }
}
