// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import millrace.quantity.NumberText;

/**
 * What results of several runs have in common when they tell the same thing: quantity, range and
 * nominal conditions. Conditions as they were measured differ a little from run to run; here they
 * are rounded to what was meant: temperatures to 1 K, everything else to two significant digits,
 * voltages below 50 mV to 0.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param quantity what was computed
 * @param range the range of the unit; empty for what is unit-wide
 * @param when the conditions of the limit that it was judged over; empty for a result without one
 * @param at the nominal conditions; of a judged result, which is the worst of its limit's
 *     conditions wherever that lay, only the words
 */
public record Measurand(
    ResultQuantity quantity,
    Optional<String> range,
    Optional<ConditionBox> when,
    ResultConditions at) {
  private static final double ZERO_V = 0.05;

  /**
   * What a result tells.
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
    // Adding 0 takes the sign off a zero.
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
