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
 */
public record Assumptions(
    double beta, double gain, double leakage, double seriesDrop, double supply) {

  /** Beta within 10 %, gain and leakage within 70 %, drops within 10 %, supply within 1 %. */
  public static final Assumptions USUAL = new Assumptions(0.1, 0.7, 0.7, 0.1, 0.01);

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
        "not in a datasheet, so not included: what the pass device itself needs to work (compliance"
            + " comes out high by it), the change of beta with temperature and voltage, the error"
            + " of a divider between reference and set voltage",
        "output resistance counts an amplifier that has to follow the terminal voltage in full; a"
            + " pass device with a gain of its own does better");
  }

  private static String percent(double ratio) {
    return "+/-" + Numbers.significant(100 * ratio, 2) + " %";
  }
}
