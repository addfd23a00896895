// SPDX-License-Identifier: Apache-2.0
package millrace.calibration;

/**
 * A shunt (methods.md 1.2).
 *
 * @param calibratedOhm R_cal, ohm, above 0
 * @param uncertainty of it, standard, a ratio
 * @param linearPerK a, 1/K
 * @param quadraticPerK2 b, 1/K2
 * @param powerPerW p, 1/W
 * @param calibratedAtDegC T_cal, degC
 * @param calibratedAtW P_cal, W
 */
public record Shunt(
    double calibratedOhm,
    double uncertainty,
    double linearPerK,
    double quadraticPerK2,
    double powerPerW,
    double calibratedAtDegC,
    double calibratedAtW) {
  /**
   * Tells whether its temperature must be known.
   *
   * @return true if a or b is not 0
   */
  public boolean goesWithTemperature() {
    return linearPerK != 0 || quadraticPerK2 != 0;
  }
}
