package millrace.evidence;

import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import millrace.quantity.Numbers;

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
 * @param worst true for the worst point inside a limit's conditions, wherever it lay
 * @param at the nominal conditions; of a worst point only the words and the supply
 */
public record Measurand(ResultQuantity quantity, Optional<String> range, boolean worst, At at) {
  /** How the method of a worst point begins. */
  public static final String WORST = "the worst point";

  private static final double ZERO_V = 0.05;

  /**
   * What a result tells.
   *
   * @param result the result
   * @return its quantity, range and nominal conditions
   */
  public static Measurand of(Result result) {
    boolean worst = result.method().startsWith(WORST);
    SortedMap<AtKey, Double> numbers = new TreeMap<>();
    result
        .at()
        .numbers()
        .forEach(
            (key, value) -> {
              if (!worst || key == AtKey.SUPPLY_V) {
                numbers.put(key, nominal(key, value));
              }
            });
    return new Measurand(
        result.quantity(), result.range(), worst, new At(numbers, result.at().words()));
  }

  private static double nominal(AtKey key, double value) {
    boolean none = key == AtKey.TERMINAL_VOLTAGE_V && Math.abs(value) < ZERO_V;
    if (none || value == 0) {
      return 0;
    }
    double step = key == AtKey.TEMPERATURE_DEGC ? 1 : Numbers.powerOfTen(Numbers.decade(value) - 1);
    // Adding 0 takes the sign off a zero.
    return Math.rint(value / step) * step + 0.0;
  }
}
