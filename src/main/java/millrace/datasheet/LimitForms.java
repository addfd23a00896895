// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.List;
import java.util.Optional;
import millrace.datasheet.DatasheetLimit.Side;
import millrace.document.LocatedValue;
import millrace.document.form.FormRefusalException;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/** How limits are written in a datasheet. */
final class LimitForms {
  private LimitForms() {}

  static final YamlForm<DatasheetLimit> LIMIT = limit();

  /** Bins by name, first match first. */
  static final YamlForm<List<Datasheet.Bin>> BINS =
      YamlForms.map(
          YamlForms.named(
              "names of bins, the best first; [] takes the rest", YamlForms.list(LIMIT, 0)),
          bins ->
              bins.entrySet().stream()
                  .map(e -> new Datasheet.Bin(e.getKey(), e.getValue()))
                  .toList());

  private static YamlForm<DatasheetLimit> limit() {
    YamlMapForm.Builder map = YamlMapForm.of("a limit");
    Key<ResultQuantity> quantity =
        map.required(
            "quantity",
            YamlForms.choice(ResultQuantity.values(), ResultQuantity::key),
            "what is limited");
    Key<String> range =
        map.optional(
            "range", YamlForms.text("a range, or all"), "all", "a range, or all (default)");
    YamlForm<LocatedValue<String>> side =
        YamlForms.located(
            YamlForms.text(
                "a quantity with its unit, as in '50 ppm', '20 ppm + 3 pA' above, '-20 ppm - 3 pA'"
                    + " below"));
    Key<Optional<LocatedValue<String>>> lower = map.optional("lower", side, "lower limit");
    Key<Optional<LocatedValue<String>>> upper = map.optional("upper", side, "upper limit");
    Key<ConditionBox> when =
        map.optional("when", when(), ConditionBox.NONE, "conditions it holds for");
    return map.reads(
        v ->
            new DatasheetLimit(
                v.place(),
                v.get(quantity),
                v.get(range).equals("all") ? Optional.empty() : Optional.of(v.get(range)),
                v.get(lower).map(text -> side(text, v.get(quantity), true)),
                v.get(upper).map(text -> side(text, v.get(quantity), false)),
                v.get(when)));
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

  private static YamlForm<ConditionBox> when() {
    YamlMapForm.Builder map = YamlMapForm.of("conditions");
    Key<Optional<ClosedInterval>> temperature =
        map.optional("temperature", interval(Dimension.TEMPERATURE), "of the unit");
    Key<Optional<ClosedInterval>> voltage =
        map.optional("terminal voltage", interval(Dimension.VOLTAGE), "at the terminals");
    Key<Optional<ClosedInterval>> supply =
        map.optional("supply", interval(Dimension.VOLTAGE), "of the supply");
    Key<Optional<ClosedInterval>> time =
        map.optional("time on", interval(Dimension.TIME), "since power-on");
    return map.reads(
        v -> new ConditionBox(v.get(temperature), v.get(voltage), v.get(supply), v.get(time)));
  }

  private static YamlForm<ClosedInterval> interval(Dimension dimension) {
    return YamlForms.map(
        YamlForms.where(
            YamlForms.list(YamlForms.quantity(dimension), 2),
            list -> list.size() == 2,
            "two values, the lower and the upper end"),
        list -> ClosedInterval.finite(list.get(0), list.get(1)));
  }
}
