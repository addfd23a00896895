// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import millrace.quantity.NumberText;

/**
 * Assumed tolerances of figures for which a datasheet gives none. Half-widths, relative. Common
 * practice, no source; every prediction names them.
 *
 * @param beta of a bipolar pass device's current gain
 * @param gain of the reciprocal of an amplifier's open-loop gain
 * @param leakage of a leakage conductance
 * @param seriesDrop of a series drop
 * @param supply of a supply voltage
 * @param pass of a pass device
 */
public record DesignAssumptions(
    double beta,
    double gain,
    double leakage,
    double seriesDrop,
    double supply,
    PassDeviceAssumptions pass) {

  /** Beta within 10 %, gain and leakage within 70 %, drops within 10 %, supply within 1 %. */
  public static final DesignAssumptions USUAL =
      new DesignAssumptions(0.1, 0.7, 0.7, 0.1, 0.01, PassDeviceAssumptions.USUAL);

  /** Checks that each is a ratio below 1. */
  public DesignAssumptions {
    for (double each : new double[] {beta, gain, leakage, seriesDrop, supply}) {
      if (!(each >= 0 && each < 1)) {
        throw new IllegalArgumentException(
            "an assumed spread is " + each + "; expected 0 or more and below 1");
      }
    }
  }

  /** Standard deviation of a quadratic temperature coefficient even of a part without tempco. */
  private static final double CURVATURE_PER_K2 = 0.03e-6;

  /** Temperature span over which a tempco is expected to change by its own size, K. */
  private static final double TEMPCO_OVER_K = 200;

  /** Half-width of an even distribution over its standard deviation (JCGM 100:2008, 4.3.7). */
  private static final double HALF_WIDTH = Math.sqrt(3);

  /** Half-width of a quadratic coefficient, as stated, else from the tempco (methods.md 11.1). */
  static double curvature(DesignPart.Reference r) {
    return r.curvaturePerK2().orElseGet(() -> usualCurvature(r.tempcoPerK()));
  }

  /** The same of a resistor. */
  static double curvature(DesignPart.Resistor r) {
    return r.curvaturePerK2().orElseGet(() -> usualCurvature(r.tempcoPerK()));
  }

  private static double usualCurvature(double tempcoPerK) {
    return HALF_WIDTH * Math.hypot(CURVATURE_PER_K2, tempcoPerK / TEMPCO_OVER_K);
  }

  /** Share of a resistor's curvature that is its own, not its network's: taken from the tempco. */
  static double ownShare(DesignPart.Resistor r, double ownTempcoPerK) {
    return r.network().isEmpty() || r.tempcoPerK() <= 0
        ? 1
        : Math.min(1, ownTempcoPerK / r.tempcoPerK());
  }

  /**
   * What was assumed, for a reader.
   *
   * @return one sentence each
   */
  public List<String> inWords() {
    return List.of(
        "assumed, since a datasheet states no tolerance for them: beta within "
            + percent(beta)
            + ", leakage conductance within "
            + percent(leakage)
            + ", reciprocal of the gain within "
            + percent(gain)
            + ", series drops within "
            + percent(seriesDrop)
            + ", supply within "
            + percent(supply),
        "assumed where a reference or resistor states no curvature: a quadratic temperature"
            + " coefficient with a standard deviation of 0.03 ppm/K2 and 1/(200 K) of its tempco,"
            + " as the root of the sum of squares",
        "assumed of the pass device: it needs "
            + plain(pass.dropV(), pass.dropV())
            + " V to work (the output of an amplifier without one "
            + plain(pass.stageDropV(), pass.stageDropV())
            + " V); the voltage gain of its own is "
            + times(pass.gateGain(), pass.gateTimes())
            + " of an insulated gate and "
            + times(pass.bipolarGain(), pass.bipolarTimes())
            + " of a bipolar device, whose beta holds at "
            + NumberText.significant(pass.betaAtV(), 2)
            + " V across it and rises by "
            + plain(100 * pass.perV(), 100 * pass.perVSpread())
            + " % per volt and by "
            + plain(100 * pass.perK(), 100 * pass.perKSpread())
            + " % per kelvin",
        "without a pass device the amplifier has to follow the terminal voltage in full",
        "not in a datasheet, so not included: the error of a divider between reference and set"
            + " voltage");
  }

  private static String plain(double value, double halfWidth) {
    return NumberText.significant(value, 2) + " +/-" + NumberText.significant(halfWidth, 2);
  }

  private static String times(double middle, double factor) {
    return NumberText.significant(middle / factor, 2)
        + " to "
        + NumberText.significant(middle * factor, 2);
  }

  private static String percent(double ratio) {
    return "+/-" + NumberText.significant(100 * ratio, 2) + " %";
  }
}
