package millrace.analysis.design;

import java.util.List;
import millrace.quantity.Numbers;

/**
 * How far those figures may be off for which a datasheet gives no tolerance. Half-widths, relative.
 * Common practice, no source; every prediction names them.
 *
 * @param beta of a bipolar pass device's current gain
 * @param gain of the reciprocal of an amplifier's open-loop gain
 * @param leakage of a leakage conductance
 * @param seriesDrop of a series drop
 * @param supply of a supply voltage
 * @param pass of a pass device
 */
public record Assumptions(
    double beta, double gain, double leakage, double seriesDrop, double supply, PassStage pass) {

  /** Beta within 10 %, gain and leakage within 70 %, drops within 10 %, supply within 1 %. */
  public static final Assumptions USUAL =
      new Assumptions(0.1, 0.7, 0.7, 0.1, 0.01, PassStage.USUAL);

  /** Checks that each is a ratio below 1. */
  public Assumptions {
    for (double each : new double[] {beta, gain, leakage, seriesDrop, supply}) {
      if (!(each >= 0 && each < 1)) {
        throw new IllegalArgumentException(
            "an assumed spread is " + each + "; expected 0 or more and below 1");
      }
    }
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
        "assumed of the pass device: it needs "
            + plain(pass.dropV(), pass.dropV())
            + " V to work (the output of an amplifier without one "
            + plain(pass.stageDropV(), pass.stageDropV())
            + " V); the voltage gain of its own is "
            + times(pass.gateGain(), pass.gateTimes())
            + " of an insulated gate and "
            + times(pass.bipolarGain(), pass.bipolarTimes())
            + " of a bipolar device, whose beta holds at "
            + Numbers.significant(pass.betaAtV(), 2)
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
    return Numbers.significant(value, 2) + " +/-" + Numbers.significant(halfWidth, 2);
  }

  private static String times(double middle, double factor) {
    return Numbers.significant(middle / factor, 2)
        + " to "
        + Numbers.significant(middle * factor, 2);
  }

  private static String percent(double ratio) {
    return "+/-" + Numbers.significant(100 * ratio, 2) + " %";
  }
}
