// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.List;
import millrace.datasheet.DatasheetLimit.Side;
import millrace.document.LocatedValue;
import millrace.document.form.FormRefusalException;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/** The form of limits in a datasheet. */
final class LimitForms {
  private LimitForms() {}

  private static final YamlForm<ConditionBox> WHEN =
      YamlMapForm.of(
          "conditions",
          map ->
              new ConditionBox(
                  map.optional("temperature", interval(Dimension.TEMPERATURE), "of the unit"),
                  map.optional("terminal voltage", interval(Dimension.VOLTAGE), "at the terminals"),
                  map.optional("supply", interval(Dimension.VOLTAGE), "of the supply"),
                  map.optional("time on", interval(Dimension.TIME), "since power-on")));

  private static YamlForm<ClosedInterval> interval(Dimension dimension) {
    return YamlForms.two(
        YamlForms.quantity(dimension),
        "two values, the lower and the upper end",
        ClosedInterval::finite);
  }

  private static final YamlForm<LocatedValue<String>> SIDE =
      YamlForms.located(
          YamlForms.text(
              "a quantity with its unit, as in '50 ppm', '20 ppm + 3 pA' above, '-20 ppm - 3 pA'"
                  + " below"));

  static final YamlForm<DatasheetLimit> LIMIT = YamlMapForm.of("a limit", LimitForms::limit);

  /** Bins by name, first match first. */
  static final YamlForm<List<Datasheet.Bin>> BINS =
      YamlForms.map(
          YamlForms.named(
              "names of bins, the best first; [] takes the rest", YamlForms.list(LIMIT, 0)),
          bins ->
              bins.entrySet().stream()
                  .map(e -> new Datasheet.Bin(e.getKey(), e.getValue()))
                  .toList());

  private static DatasheetLimit limit(YamlKeys map) {
    ResultQuantity quantity =
        map.required(
            "quantity",
            YamlForms.choice(ResultQuantity.values(), ResultQuantity::key),
            "what is limited");
    return new DatasheetLimit(
        map.place(),
        quantity,
        map.optional("range", YamlForms.text("a range, or all"), "a range, or all (default)")
            .filter(range -> !range.equals("all")),
        map.optional("lower", SIDE, "lower limit").map(text -> side(text, quantity, true)),
        map.optional("upper", SIDE, "upper limit").map(text -> side(text, quantity, false)),
        map.optional("when", WHEN, ConditionBox.NONE, "conditions it holds for"));
  }

  /** The absolute share widens the limit: it is added above and taken off below. */
  private static Side side(LocatedValue<String> written, ResultQuantity quantity, boolean isLower) {
    String text = written.value();
    Dimension dimension = ResultDimension.of(quantity);
    int sign = dimension == Dimension.RATIO ? signOfShare(text, isLower) : -1;
    String main = sign < 0 ? text : text.substring(0, sign);
    double value = parsed(main, dimension, written.place());
    if (sign < 0) {
      return new Side(ResultDimension.count(value, quantity), 0);
    }
    int from = sign + " + ".length();
    FilePlace place = written.place();
    FilePlace shareAt = new FilePlace(place.file(), place.line(), place.column() + from);
    double share = parsed(text.substring(from), Dimension.CURRENT, shareAt);
    if (share < 0) {
      throw new FormRefusalException(
          InputFault.of(
              shareAt, "the absolute share of a limit is negative", "a current of 0 or more"));
    }
    return new Side(ResultDimension.count(value, quantity), share);
  }

  private static double parsed(String text, Dimension dimension, FilePlace place) {
    try {
      return QuantityText.parse(text, dimension);
    } catch (QuantityException e) {
      throw new FormRefusalException(e.at(place));
    }
  }

  private static int signOfShare(String text, boolean isLower) {
    int minus = isLower ? text.indexOf(" - ") : -1;
    return minus > 0 ? minus : text.indexOf(" + ");
  }
}
