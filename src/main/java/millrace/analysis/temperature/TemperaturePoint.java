// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import millrace.analysis.uncertainty.Estimate;

/**
 * The current of one range during one stay at a temperature.
 *
 * @param stay which stay of the run, from 0
 * @param setpointDegC what the chamber was set to, degC
 * @param temperatureDegC temperature of the unit as measured, degC
 * @param currentA the current, A
 * @param timeS when, s
 */
public record TemperaturePoint(
    int stay, double setpointDegC, Estimate temperatureDegC, Estimate currentA, double timeS) {
  /** How near to a temperature a stay must be to count as a visit to it, K. */
  public static final double NEAR_K = 1.5;
}
