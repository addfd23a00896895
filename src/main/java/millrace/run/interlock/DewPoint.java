// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

/** The dew point of air. */
public final class DewPoint {
  private static final double B = 17.62;
  private static final double C_DEGC = 243.12;

  private DewPoint() {}

  /**
   * The temperature at which water forms: {@code C g / (B - g)} with {@code g = ln(h) + B t / (C +
   * t)}, B = 17.62, C = 243.12 degC; World Meteorological Organization, Guide to Instruments and
   * Methods of Observation (WMO-No. 8), annex 4.B, over water, -45 degC to 60 degC.
   *
   * @param degC temperature of the air, degC
   * @param humidity its relative humidity, a ratio above 0
   * @return degC
   */
  public static double degC(double degC, double humidity) {
    double g = Math.log(humidity) + B * degC / (C_DEGC + degC);
    return C_DEGC * g / (B - g);
  }
}
