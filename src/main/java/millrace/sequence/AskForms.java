// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.document.LocatedValue;
import millrace.document.form.FormRefusalException;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.evidence.part.AskedPartValue;
import millrace.evidence.part.PartQuantity;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/** How questions are written, and what their answers are values of. */
final class AskForms {
  private static final String U_EXPECTED = "a share of the value or of its kind, above 0";

  private AskForms() {}

  private static final YamlForm<AskedPartValue> ANSWER =
      YamlMapForm.of("an answer", AskForms::answer);

  static YamlForm<Step> ask() {
    return YamlMapForm.of(
        "the step 'ask'",
        map ->
            new Step.Do(
                map.place(),
                new Task.Ask(
                    map.required("ask", YamlForms.text("a question"), "what is asked"),
                    map.optional(
                        "answer",
                        ANSWER,
                        "what the answer is a value of; without, any text is an answer")),
                MeasuringRuleForms.of(map)));
  }

  private static AskedPartValue answer(YamlKeys map) {
    PartQuantity quantity =
        map.required(
            "quantity",
            YamlForms.choice(PartQuantity.values(), PartQuantity::text),
            "what is measured by hand");
    String of =
        map.required(
            "of", YamlForms.text("a part"), "a part of the datasheet; of a current, a range");
    LocatedValue<String> u =
        map.required(
            "u",
            YamlForms.located(
                YamlForms.parsed(
                    "an uncertainty, as in '20 ppm' or '10 mV'", "20 ppm", text -> text)),
            "standard uncertainty of the answer");
    Optional<Double> volts =
        map.optional(
            "terminal voltage",
            YamlForms.from0(Dimension.VOLTAGE, "a voltage of 0 V or more"),
            "at the terminals meanwhile; default shorted, or off");
    return asked(quantity, of, u, volts);
  }

  private static AskedPartValue asked(
      PartQuantity quantity, String of, LocatedValue<String> u, Optional<Double> volts) {
    OptionalDouble terminalV = volts.map(OptionalDouble::of).orElse(OptionalDouble.empty());
    Optional<Double> share =
        quantity.dimension() == Dimension.RATIO ? Optional.empty() : ratio(u.value());
    double absolute = share.isPresent() ? 0 : absolute(u, quantity.dimension());
    if (!(share.orElse(absolute) > 0)) {
      throw new FormRefusalException(
          InputFault.of(u.place(), "u is '" + u.value() + "'", U_EXPECTED));
    }
    return new AskedPartValue(quantity, of, share.orElse(0.0), absolute, terminalV);
  }

  private static Optional<Double> ratio(String text) {
    try {
      return Optional.of(QuantityText.parse(text, Dimension.RATIO));
    } catch (QuantityException e) {
      return Optional.empty();
    }
  }

  private static double absolute(LocatedValue<String> u, Dimension dimension) {
    try {
      return QuantityText.parse(u.value(), dimension);
    } catch (QuantityException e) {
      throw new FormRefusalException(e.at(u.place()));
    }
  }
}
