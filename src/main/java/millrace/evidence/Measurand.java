// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import millrace.quantity.NumberText;

/**
 * Identifies the same result in several runs by quantity, range and nominal conditions. Measured
 * conditions differ a little from run to run; here they are rounded to nominal values: temperatures
 * to 1 K, everything else to two significant digits, voltages below 50 mV to 0.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param quantity what was computed
 * @param range the range of the unit; empty for what is unit-wide
 * @param when the conditions of the limit that it was judged over; empty for a result without one
 * @param at the nominal conditions; only the words for a judged result, since its worst condition
 *     may lie anywhere in the box
 */
public record Measurand(
    ResultQuantity quantity,
    Optional<String> range,
    Optional<ConditionBox> when,
    ResultConditions at) {
  private static final double ZERO_V = 0.05;

  /**
   * The measurand of a result.
   *
   * @param result the result
   * @return its quantity, range and nominal conditions
   */
  public static Measurand of(Result result) {
    Optional<ConditionBox> when = result.judgement().map(Judgement::when);
    SortedMap<ResultConditionKey, Double> numbers = new TreeMap<>();
    if (when.isEmpty()) {
      result.at().numbers().forEach((key, value) -> numbers.put(key, nominal(key, value)));
    }
    return new Measurand(
        result.quantity(),
        result.range(),
        when,
        new ResultConditions(numbers, result.at().words()));
  }

  private static double nominal(ResultConditionKey key, double value) {
    boolean none = key == ResultConditionKey.TERMINAL_VOLTAGE_V && Math.abs(value) < ZERO_V;
    if (none || value == 0) {
      return 0;
    }
    double step =
        key == ResultConditionKey.TEMPERATURE_DEGC
            ? 1
            : NumberText.powerOfTen(NumberText.decade(value) - 1);
    // Adding 0 removes the sign of a zero.
    return Math.rint(value / step) * step + 0.0;
  }

  /**
   * Tells whether it is the worst of several conditions.
   *
   * @return true for a result judged over a limit's conditions
   */
  public boolean worst() {
    return when.isPresent() && !when.get().equals(ConditionBox.NONE);
  }
}
