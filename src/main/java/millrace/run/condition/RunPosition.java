// SPDX-License-Identifier: Apache-2.0
package millrace.run.condition;

import java.util.ArrayList;
import java.util.List;
import millrace.evidence.PointConditions;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.Plan.PlannedPoint;

/** Where a run stands, in words for the person who sets and reads by hand. */
public final class RunPosition {
  private static final int DIGITS = 6;

  private RunPosition() {}

  /** For example {@code Point 3 of 35 (zero, range 1mA)}. */
  public static String of(PlannedPoint point, int points) {
    PointConditions c = point.conditions();
    List<String> all = new ArrayList<>();
    if (!point.task().word().isEmpty()) {
      all.add(point.task().word());
    }
    c.slot().ifPresent(slot -> all.add("slot " + slot));
    c.range().ifPresent(range -> all.add("range " + range));
    c.loadOhm().ifPresent(ohm -> all.add("load " + print(ohm, Dimension.RESISTANCE)));
    c.supplyV().ifPresent(v -> all.add("supply " + print(v, Dimension.VOLTAGE)));
    c.temperatureDegC().ifPresent(t -> all.add("at " + print(t, Dimension.TEMPERATURE)));
    String what = all.isEmpty() ? "" : " (" + String.join(", ", all) + ")";
    return "Point %s of %s%s".formatted(point.number(), points, what);
  }

  /** For example {@code On the way to 85 degC}. */
  public static String onTheWay(PlannedPoint point) {
    return "On the way to "
        + print(point.conditions().temperatureDegC().orElseThrow(), Dimension.TEMPERATURE);
  }

  private static String print(double value, Dimension dimension) {
    double shown = NumberText.parse(NumberText.significant(value, DIGITS)).orElse(value);
    return QuantityText.print(shown, dimension);
  }

  /** For example {@code reading 2 of 10}. */
  public static String reading(int number, ReadingRule rule) {
    return rule.untilRatio().isPresent()
        ? "reading %s of %s to %s".formatted(number, rule.count(), rule.most())
        : reading(number, rule.count());
  }

  /** The same of a known number. */
  public static String reading(int number, int of) {
    return "reading %s of %s".formatted(number, of);
  }
}
