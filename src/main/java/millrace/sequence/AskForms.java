// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import millrace.document.LocatedValue;
import millrace.document.form.FormRefusalException;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
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

  static YamlForm<Step> ask() {
    YamlMapForm.Builder map = YamlMapForm.of("the step 'ask'");
    Key<String> text = map.required("ask", YamlForms.text("a question"), "what is asked");
    Key<Optional<AskedPartValue>> answer =
        map.optional(
            "answer", answer(), "what the answer is a value of; without, any text is an answer");
    Function<YamlMapForm.Values, MeasuringRuleOverrides> rules = MeasuringRuleForms.keys(map);
    return map.reads(
        v -> new Step.Do(v.place(), new Task.Ask(v.get(text), v.get(answer)), rules.apply(v)));
  }

  private static YamlForm<AskedPartValue> answer() {
    YamlMapForm.Builder map = YamlMapForm.of("an answer");
    Key<PartQuantity> quantity =
        map.required(
            "quantity",
            YamlForms.choice(PartQuantity.values(), PartQuantity::text),
            "what is measured by hand");
    Key<String> of =
        map.required(
            "of", YamlForms.text("a part"), "a part of the datasheet; of a current, a range");
    Key<LocatedValue<String>> u =
        map.required(
            "u",
            YamlForms.located(YamlForms.text("an uncertainty, as in '20 ppm' or '10 mV'")),
            "standard uncertainty of the answer");
    Key<Optional<Double>> volts =
        map.optional(
            "terminal voltage",
            YamlForms.where(
                YamlForms.quantity(Dimension.VOLTAGE), v -> v >= 0, "a voltage of 0 V or more"),
            "at the terminals meanwhile; default shorted, or off");
    return map.reads(v -> asked(v.get(quantity), v.get(of), v.get(u), v.get(volts)));
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
