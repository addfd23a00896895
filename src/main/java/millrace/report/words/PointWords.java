// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Short description of a point: its number, its place, and its action. Stateless. */
public final class PointWords {
  private static final int DIGITS = 4;

  private PointWords() {}

  /**
   * The description of a point, so that a person recognises it.
   *
   * @param point a point
   * @return words such as {@code point 37: 10mA, 23 degC, load 27 ohm going down (measure)}
   */
  public static String of(Point point) {
    PointConditions c = point.conditions();
    List<String> words = new ArrayList<>();
    c.slot().ifPresent(s -> words.add("slot " + s));
    c.range().ifPresent(words::add);
    add(words, c.temperatureDegC(), Dimension.TEMPERATURE, "");
    add(words, c.loadOhm(), Dimension.RESISTANCE, "load ");
    c.direction()
        .filter(d -> c.loadOhm().isPresent())
        .ifPresent(d -> words.add(words.remove(words.size() - 1) + " going " + d.text()));
    add(words, c.terminalVoltageV(), Dimension.VOLTAGE, "");
    add(words, c.supplyV(), Dimension.VOLTAGE, "supply ");
    add(words, c.setA(), Dimension.CURRENT, "set to ");
    String where = words.isEmpty() ? point.key() : String.join(", ", words);
    return "point %s: %s (%s)".formatted(point.number().text(), where, point.kind().text());
  }

  private static void add(
      List<String> words, OptionalDouble value, Dimension dimension, String before) {
    if (value.isPresent()) {
      double v = value.getAsDouble();
      words.add(
          before
              + (v == 0 && dimension != Dimension.TEMPERATURE
                  ? "0 " + dimension.baseUnit()
                  : QuantityText.print(v, dimension, DIGITS)));
    }
  }
}
