// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.OptionalDouble;
import millrace.evidence.Point;

/**
 * A point of a run as plain numbers, the input of the results.
 *
 * @param point the point
 * @param timeS when, from the start of the run, s
 * @param currentA current out of the unit, corrected, A
 * @param uPointA standard uncertainty of the current that is independent between stays at a
 *     temperature, A
 * @param uCommonA standard uncertainty of the current that is common to the range over the run, A
 * @param voltageV voltage at the unit's terminals, V
 * @param uVoltageV its standard uncertainty, V
 * @param temperatureDegC temperature of the unit, degC; empty if not known
 * @param uTemperatureK its standard uncertainty, K; 0 if not known
 */
public record MeasuredPoint(
    Point point,
    double timeS,
    double currentA,
    double uPointA,
    double uCommonA,
    double voltageV,
    double uVoltageV,
    OptionalDouble temperatureDegC,
    double uTemperatureK) {}
