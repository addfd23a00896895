// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/** The room around the bench: slow waves of temperature and humidity. Immutable. */
public final class SimulatedRoom {
  private static final double MEAN_DEGC = 22.8;
  private static final double MEAN_HUMIDITY = 0.44;

  /**
   * The temperature of the room, degC.
   *
   * @param nowS on the bench's clock, s
   */
  public double degC(double nowS) {
    return MEAN_DEGC + 0.3 * Math.sin(nowS / 7000);
  }

  /** Relative humidity, a ratio. */
  public double humidity(double nowS) {
    return MEAN_HUMIDITY + 0.01 * Math.sin(nowS / 5000);
  }

  /**
   * The dew point by the Magnus formula, coefficients 17.62 and 243.12 degC (World Meteorological
   * Organization, Guide to Instruments and Methods of Observation, WMO-No. 8, annex 4.B).
   */
  double dewDegC(double nowS) {
    double t = degC(nowS);
    double g = Math.log(humidity(nowS)) + 17.62 * t / (243.12 + t);
    return 243.12 * g / (17.62 - g);
  }
}
