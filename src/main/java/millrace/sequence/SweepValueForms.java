// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How the values of a sweep are written: one, a list, or from one to another. */
final class SweepValueForms {
  /** The most values of one sweep. */
  private static final int MOST = 100_000;

  private static final MathContext DIGITS = new MathContext(12);

  private SweepValueForms() {}

  static YamlForm<List<Double>> any(Dimension dimension) {
    return of(YamlForms.quantity(dimension));
  }

  static YamlForm<List<Double>> from0(Dimension dimension) {
    Predicate<Double> demand = v -> v >= 0;
    String inWords = dimension.inWords() + " of 0 or more, as in '" + dimension.example() + "'";
    return of(YamlForms.where(YamlForms.quantity(dimension), demand, inWords));
  }

  private static YamlForm<List<Double>> of(YamlForm<Double> value) {
    Map<String, YamlForm<? extends List<Double>>> spans = Map.of("from", span(value));
    return YamlForms.itemsOr(YamlForms.list(value, 1), YamlForms.byKey("values", spans));
  }

  private static YamlForm<List<Double>> span(YamlForm<Double> value) {
    YamlMapForm.Builder map = YamlMapForm.of("values from one to another");
    Key<Double> from = map.required("from", value, "the first");
    Key<Double> to = map.required("to", value, "the last");
    Key<Integer> points =
        map.required("points", YamlForms.count(2, MOST), "how many, ends included");
    Map<String, Boolean> spacings = new LinkedHashMap<>();
    spacings.put("linear", false);
    spacings.put("logarithmic", true);
    Key<Boolean> logarithmic =
        map.optional(
            "spacing", YamlForms.choice(spacings), false, "linear (default) or logarithmic");
    return map.reads(
        v ->
            v.get(logarithmic)
                ? logarithmic(v.get(from), v.get(to), v.get(points))
                : linear(v.get(from), v.get(to), v.get(points)));
  }

  private static List<Double> linear(double from, double to, int points) {
    List<Double> values = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      values.add(tidy(from + (double) i / (points - 1) * (to - from)));
    }
    return withEnds(values, from, to);
  }

  private static List<Double> logarithmic(double from, double to, int points) {
    if (!(from > 0 && to > 0)) {
      throw new IllegalArgumentException(
          "logarithmic spacing from or to 0; expected both ends above 0. Add the 0 in a step of its"
              + " own");
    }
    List<Double> values = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      values.add(tidy(from * Math.pow(to / from, (double) i / (points - 1))));
    }
    return withEnds(values, from, to);
  }

  private static List<Double> withEnds(List<Double> values, double from, double to) {
    values.set(0, from);
    values.set(values.size() - 1, to);
    return List.copyOf(values);
  }

  /** Without the last digits of the arithmetic, so that 0.7 does not become 0.7000000000000001. */
  static double tidy(double value) {
    return new BigDecimal(value).round(DIGITS).doubleValue();
  }
}
