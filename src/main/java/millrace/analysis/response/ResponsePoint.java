// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * A measured point that a response uses.
 *
 * @param key its name, different for each point of the run
 * @param visit which visit to a temperature it belongs to (methods.md 11.2), 0 or more
 * @param timeS when, from the start of the run, s; empty where no time is known
 * @param currentA current out of the unit, with its point-wise and common errors, A
 * @param voltageV voltage at the unit's terminals, V
 * @param temperatureDegC temperature of the unit, degC
 * @param supplyV supply voltage, V; empty where none was set
 */
public record ResponsePoint(
    String key,
    int visit,
    OptionalDouble timeS,
    Estimate currentA,
    Estimate voltageV,
    Estimate temperatureDegC,
    OptionalDouble supplyV) {}
