// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.List;
import java.util.Optional;
import millrace.datasheet.StatedLimit.Side;
import millrace.document.Located;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.document.form.Refusal;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;
import millrace.evidence.Span;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.quantity.QuantityException;

/** How limits are written in a datasheet. */
final class LimitForms {
  private LimitForms() {}

  static final Form<StatedLimit> LIMIT = limit();

  /** Bins by name, first match first. */
  static final Form<List<Datasheet.Bin>> BINS =
      Forms.map(
          Forms.named("names of bins, the best first; [] takes the rest", Forms.list(LIMIT, 0)),
          bins ->
              bins.entrySet().stream()
                  .map(e -> new Datasheet.Bin(e.getKey(), e.getValue()))
                  .toList());

  private static Form<StatedLimit> limit() {
    MapForm.Builder map = MapForm.of("a limit");
    Key<ResultQuantity> quantity =
        map.required(
            "quantity",
            Forms.choice(ResultQuantity.values(), ResultQuantity::key),
            "what is limited");
    Key<String> range =
        map.optional("range", Forms.text("a range, or all"), "all", "a range, or all (default)");
    Form<Located<String>> side =
        Forms.located(
            Forms.text(
                "a quantity with its unit, as in '50 ppm', '20 ppm + 3 pA' above, '-20 ppm - 3 pA'"
                    + " below"));
    Key<Optional<Located<String>>> lower = map.optional("lower", side, "lower limit");
    Key<Optional<Located<String>>> upper = map.optional("upper", side, "upper limit");
    Key<ConditionBox> when =
        map.optional("when", when(), ConditionBox.NONE, "conditions it holds for");
    return map.reads(
        v ->
            new StatedLimit(
                v.place(),
                v.get(quantity),
                v.get(range).equals("all") ? Optional.empty() : Optional.of(v.get(range)),
                v.get(lower).map(text -> side(text, v.get(quantity), true)),
                v.get(upper).map(text -> side(text, v.get(quantity), false)),
                v.get(when)));
  }

  /** The absolute share widens the limit: it is added above and taken off below. */
  private static Side side(Located<String> written, ResultQuantity quantity, boolean isLower) {
    String text = written.value();
    Dimension dimension = Dimensions.of(quantity);
    int sign = dimension == Dimension.RATIO ? signOfShare(text, isLower) : -1;
    String main = sign < 0 ? text : text.substring(0, sign);
    double value = parsed(main, dimension, written.place());
    if (sign < 0) {
      return new Side(Dimensions.count(value, quantity), 0);
    }
    int from = sign + " + ".length();
    Place place = written.place();
    Place shareAt = new Place(place.file(), place.line(), place.column() + from);
    double share = parsed(text.substring(from), Dimension.CURRENT, shareAt);
    if (share < 0) {
      throw new Refusal(
          Fault.of(shareAt, "the absolute share of a limit is negative", "a current of 0 or more"));
    }
    return new Side(Dimensions.count(value, quantity), share);
  }

  private static double parsed(String text, Dimension dimension, Place place) {
    try {
      return Quantities.parse(text, dimension);
    } catch (QuantityException e) {
      throw new Refusal(e.at(place));
    }
  }

  private static int signOfShare(String text, boolean isLower) {
    int minus = isLower ? text.indexOf(" - ") : -1;
    return minus > 0 ? minus : text.indexOf(" + ");
  }

  private static Form<ConditionBox> when() {
    MapForm.Builder map = MapForm.of("conditions");
    Key<Optional<Span>> temperature =
        map.optional("temperature", interval(Dimension.TEMPERATURE), "of the unit");
    Key<Optional<Span>> voltage =
        map.optional("terminal voltage", interval(Dimension.VOLTAGE), "at the terminals");
    Key<Optional<Span>> supply =
        map.optional("supply", interval(Dimension.VOLTAGE), "of the supply");
    Key<Optional<Span>> time = map.optional("time on", interval(Dimension.TIME), "since power-on");
    return map.reads(
        v -> new ConditionBox(v.get(temperature), v.get(voltage), v.get(supply), v.get(time)));
  }

  private static Form<Span> interval(Dimension dimension) {
    return Forms.map(
        Forms.where(
            Forms.list(Forms.quantity(dimension), 2),
            list -> list.size() == 2,
            "two values, the lower and the upper end"),
        list -> new Span(list.get(0), list.get(1)));
  }
}
