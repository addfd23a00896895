// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
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
    String inWords = dimension.inWords() + " of 0 or more, as in '" + dimension.example() + "'";
    return of(YamlForms.from0(dimension, inWords));
  }

  private static YamlForm<List<Double>> of(YamlForm<Double> value) {
    Map<String, YamlForm<? extends List<Double>>> spans = Map.of("from", span(value));
    return YamlForms.itemsOr(YamlForms.list(value, 1), YamlForms.byKey("values", spans));
  }

  private static YamlForm<List<Double>> span(YamlForm<Double> value) {
    return YamlMapForm.of(
        "values from one to another",
        map -> {
          double from = map.required("from", value, "the first");
          double to = map.required("to", value, "the last");
          int points = map.required("points", YamlForms.count(2, MOST), "how many, ends included");
          return map.optional("spacing", spacing(), false, "linear (default) or logarithmic")
              ? logarithmic(from, to, points)
              : linear(from, to, points);
        });
  }

  private static YamlForm<Boolean> spacing() {
    Map<String, Boolean> logarithmic = new LinkedHashMap<>();
    logarithmic.put("linear", false);
    logarithmic.put("logarithmic", true);
    return YamlForms.choice(logarithmic);
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

  /**
   * Rounds off the last digits of the arithmetic, so that 0.7 does not become 0.7000000000000001.
   */
  static double tidy(double value) {
    return new BigDecimal(value).round(DIGITS).doubleValue();
  }
}
