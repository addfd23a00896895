// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * The base current of a bipolar pass device as a share of its current: it falls with temperature
 * and with the voltage across the device, since beta rises with both.
 *
 * @param share of the current at shorted terminals and 23 degC, 0 for an insulated gate
 * @param earlyV V_A, V, above 0
 * @param acrossV voltage across the device at shorted terminals, V
 * @param perK relative fall per kelvin, 1/K
 */
record PassDeviceBaseCurrent(double share, double earlyV, double acrossV, double perK) {

  /** The share of the current that reaches the output. */
  double passed(double terminalV, double warmer) {
    double left = Math.max(0, acrossV - terminalV);
    return 1 - share * Math.exp(-perK * warmer) * (earlyV + acrossV) / (earlyV + left);
  }

  /** Relative fall of the current per volt at shorted terminals, 1/V. */
  double perV(double warmer) {
    double passed = passed(0, warmer);
    return (1 - passed) / passed / (earlyV + acrossV);
  }
}
