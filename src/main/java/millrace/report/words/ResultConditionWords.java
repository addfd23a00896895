// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.stream.Collectors;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/** Conditions of a result, in words. */
public final class ResultConditionWords {
  private static final int DIGITS = 4;

  private ResultConditionWords() {}

  /** For example {@code 23.0 degC, 100.0 ohm}; empty text for none. */
  public static String of(ResultConditions at) {
    return at.all().entrySet().stream()
        .map(e -> word(e.getKey(), e.getValue()))
        .collect(Collectors.joining(", "));
  }

  private static String word(ResultConditionKey key, Object value) {
    return value instanceof Double number ? number(key, number) : text(key, value.toString());
  }

  private static String number(ResultConditionKey key, double v) {
    return switch (key) {
      case LOAD_OHM -> "load " + print(v, Dimension.RESISTANCE);
      case TERMINAL_VOLTAGE_V -> print(v, Dimension.VOLTAGE) + " at the terminals";
      case TEMPERATURE_DEGC -> NumberText.fixed(v, 1) + " degC";
      case SUPPLY_V -> "supply " + print(v, Dimension.VOLTAGE);
      case SET_A -> "set to " + print(v, Dimension.CURRENT);
      case TAU_S -> "averaged over " + print(v, Dimension.TIME);
      case BANDWIDTH_HZ -> "bandwidth " + print(v, Dimension.FREQUENCY);
      case DURATION_S -> "over " + print(v, Dimension.TIME);
      case WITHIN_PPM -> "within " + NumberText.print(v) + " ppm";
      case CRITERION -> "criterion " + QuantityText.print(v, Dimension.RATIO);
      default -> key.text() + " " + NumberText.print(v);
    };
  }

  private static String text(ResultConditionKey key, String word) {
    return switch (key) {
      case DIRECTION -> "load going " + word;
      case EXCURSION -> word + " excursion";
      case OTHER_RANGE -> "against range " + word;
      default -> key.text() + " " + word;
    };
  }

  private static String print(double v, Dimension dimension) {
    return v == 0 ? "0 " + dimension.baseUnit() : QuantityText.print(v, dimension, DIGITS);
  }
}
