// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.Optional;
import millrace.quantity.ClosedInterval;

/**
 * The conditions over which a limit is promised.
 *
 * @param temperatureDegC interval of the unit's temperature, degC
 * @param voltageV interval of the terminal voltage in the direction of the current, V
 * @param supplyV interval of the supply voltage, V; empty for the usual one
 */
public record PromisedConditionBox(
    ClosedInterval temperatureDegC, ClosedInterval voltageV, Optional<ClosedInterval> supplyV) {}
