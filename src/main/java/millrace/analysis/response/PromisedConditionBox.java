// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.Optional;

/**
 * The conditions over which a limit is promised.
 *
 * @param temperatureDegC interval of the unit's temperature, degC
 * @param voltageV interval of the terminal voltage in the direction of the current, V
 * @param supplyV interval of the supply voltage, V; empty for the usual one
 */
public record PromisedConditionBox(Span temperatureDegC, Span voltageV, Optional<Span> supplyV) {

  /**
   * An interval, a single value where both ends are one.
   *
   * @param lower its lower end
   * @param upper its upper end, not below
   */
  public record Span(double lower, double upper) {
    /** Checks the order. */
    public Span {
      if (!(lower <= upper)) {
        throw new IllegalArgumentException(
            "the interval from " + lower + " to " + upper + " is upside down");
      }
    }
  }
}
