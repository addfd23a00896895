// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import millrace.quantity.ClosedInterval;

/**
 * The conditions that a limit holds for, each an interval (methods.md 7.1).
 *
 * @param temperatureDegC of the unit, degC; empty: at T_ref alone
 * @param terminalVoltageV at its terminals, V; empty where the limit names none
 * @param supplyV of its supply, V; empty where the limit names none
 * @param timeOnS since it was switched on, s; empty where the limit names none
 */
public record ConditionBox(
    Optional<ClosedInterval> temperatureDegC,
    Optional<ClosedInterval> terminalVoltageV,
    Optional<ClosedInterval> supplyV,
    Optional<ClosedInterval> timeOnS) {

  /** A limit that names no condition. */
  public static final ConditionBox NONE =
      new ConditionBox(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
}
