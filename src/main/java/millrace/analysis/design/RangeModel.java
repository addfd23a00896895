package millrace.analysis.design;

import java.util.Optional;
import millrace.analysis.design.Deviation.Kind;

/**
 * The current and the headroom of one range as functions of how a built unit deviates from its
 * design (measurement.md 9 and 10).
 *
 * <p>With dT = T - T_ref, x the deviations:
 *
 * <ul>
 *   <li>held voltage V_h = V_set (1 + x_ref + x_reftc dT) + x_os + x_drift dT - (V_set + V)/A
 *   <li>range resistor R = R_0 (1 + x_net + x_res + (x_nettc + x_restc) dT)
 *   <li>I = V_h/R (1 - 1/(beta + 1) - x_loss) + x_bias + x_gate - V g 2^(dT/d)
 *   <li>headroom = V_supply - V_set (1 + x_ref) - sum of series drops
 * </ul>
 *
 * <p>A the amplifier's gain, taken with a pass device that has no gain of its own; g the leakage
 * conductance, which doubles every d kelvin. Source: Ohm's and Kirchhoff's laws; the doubling is
 * common practice, no source.
 *
 * <p>Immutable and thread-safe.
 */
public final class RangeModel {
  private final RangeDesign design;
  private final double referenceDegC;
  private final double inverseGain;
  private final double loss;
  private final double leakageS;
  private final double doublesEveryK;
  private final int reference;
  private final int referenceTempco;
  private final int network;
  private final int networkTempco;
  private final int resistor;
  private final int resistorTempco;
  private final int offset;
  private final int drift;
  private final int bias;
  private final int gain;
  private final int baseLoss;
  private final int gate;
  private final int leakage;
  private final int[] drops;
  private final int supply;

  RangeModel(Circuit circuit, RangeDesign design) {
    this.design = design;
    referenceDegC = circuit.referenceDegC();
    inverseGain = design.amplifier().map(a -> 1 / a.gain()).orElse(0.0);
    loss = design.passDevice().map(Piece.PassDevice::loss).orElse(0.0);
    leakageS = design.leakage().map(l -> 1 / l.resistanceOhm()).orElse(0.0);
    doublesEveryK = design.leakage().map(Piece.Leakage::doublesEveryK).orElse(10.0);
    reference = circuit.indexOf(Kind.REFERENCE, design.reference().name());
    referenceTempco = circuit.indexOf(Kind.REFERENCE_TEMPCO, design.reference().name());
    network = circuit.indexOf(Kind.NETWORK, design.resistor().network());
    networkTempco = circuit.indexOf(Kind.NETWORK_TEMPCO, design.resistor().network());
    resistor = circuit.indexOf(Kind.RESISTOR, design.resistor().name());
    resistorTempco = circuit.indexOf(Kind.RESISTOR_TEMPCO, design.resistor().name());
    offset = circuit.indexOf(Kind.OFFSET, design.amplifier());
    drift = circuit.indexOf(Kind.DRIFT, design.amplifier());
    bias = circuit.indexOf(Kind.BIAS, design.amplifier());
    gain = circuit.indexOf(Kind.INVERSE_GAIN, design.amplifier());
    baseLoss = circuit.indexOf(Kind.BASE_LOSS, design.passDevice());
    gate = circuit.indexOf(Kind.GATE_LEAKAGE, design.passDevice());
    leakage = circuit.indexOf(Kind.LEAKAGE, design.leakage());
    supply = circuit.indexOf(Kind.SUPPLY, design.supply());
    drops =
        design.series().stream()
            .mapToInt(d -> circuit.indexOf(Kind.SERIES_DROP, d.name()))
            .toArray();
  }

  /**
   * What the range is made from.
   *
   * @return its design
   */
  public RangeDesign design() {
    return design;
  }

  private static double at(double[] x, int i) {
    return i < 0 ? 0 : x[i];
  }

  /**
   * The current (formula in the head of this class; measurement.md 10).
   *
   * @param terminalV V, voltage at the terminals, V
   * @param degC T, temperature of the unit, degC
   * @param x the deviations, as long as {@link Circuit#deviations()}
   * @return I, A; the sign of the nominal current is left out
   */
  public double currentA(double terminalV, double degC, double[] x) {
    double passed = heldV(terminalV, degC, x) / resistanceOhm(degC, x);
    double leaks =
        (leakageS + at(x, leakage)) * Math.pow(2, (degC - referenceDegC) / doublesEveryK);
    return passed * (1 - loss - at(x, baseLoss)) + at(x, bias) + at(x, gate) - terminalV * leaks;
  }

  /**
   * The voltage across the range resistor (measurement.md 10).
   *
   * @param terminalV voltage at the terminals, V
   * @param degC temperature of the unit, degC
   * @param x the deviations
   * @return V_h, V
   */
  public double heldV(double terminalV, double degC, double[] x) {
    double dT = degC - referenceDegC;
    double set = design.setVoltageV();
    return set * (1 + at(x, reference) + at(x, referenceTempco) * dT)
        + at(x, offset)
        + at(x, drift) * dT
        - (set + terminalV) * (inverseGain + at(x, gain));
  }

  /**
   * The value of the range resistor (measurement.md 10).
   *
   * @param degC temperature of the unit, degC
   * @param x the deviations
   * @return R, ohm
   */
  public double resistanceOhm(double degC, double[] x) {
    double dT = degC - referenceDegC;
    double off = at(x, network) + at(x, resistor);
    double tempco = at(x, networkTempco) + at(x, resistorTempco);
    return design.resistor().valueOhm() * (1 + off + tempco * dT);
  }

  /**
   * The headroom: supply minus set voltage minus series drops (measurement.md 10).
   *
   * @param x the deviations
   * @return V; empty if no supply is stated
   */
  public Optional<Double> headroomV(double[] x) {
    double used = design.setVoltageV() * (1 + at(x, reference));
    for (int i = 0; i < drops.length; i++) {
      used += design.series().get(i).voltageV() + at(x, drops[i]);
    }
    double left = at(x, supply) - used;
    return design.supply().map(s -> s.voltageV() + left);
  }
}
