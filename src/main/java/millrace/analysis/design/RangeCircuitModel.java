// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import java.util.Optional;
import millrace.analysis.design.DesignDeviation.Kind;

/**
 * The current and the headroom of one range as functions of how a built unit deviates from its
 * design (methods.md 9 and 10).
 *
 * <p>With dT = T - T_ref, x the deviations:
 *
 * <ul>
 *   <li>held voltage V_h = V_set (1 + x_ref + x_reftc dT + x_refb dT^2) + x_os + x_drift dT -
 *       (V_set + V/mu)/A
 *   <li>behind a first stage V_set (1 + ...) is multiplied by the deviations of its amplifier and
 *       resistors ({@link FirstStageModel})
 *   <li>range resistor, or each of a tapped string, R = R_0 (1 + x_net + x_res + (x_nettc +
 *       x_restc) dT + (x_netb + x_resb) dT^2)
 *   <li>I = V_h/R (1 - b(V, T)) + x_bias + x_gate - V g 2^(dT/d)
 *   <li>share that goes into a base b = (1/(beta + 1) + x_loss) exp(-k dT) (1 + V_0/V_A)/(1 +
 *       V_CE/V_A), V_CE = V_supply - V_set - sum of series drops - V
 *   <li>headroom = V_supply - V_set (1 + x_ref) - sum of series drops - drop of the pass device
 * </ul>
 *
 * <p>A the amplifier's gain; mu the voltage gain of the pass device, which divides the terminal
 * voltage that the amplifier has to follow (1 without a pass device); V_A, V_0 and k as in {@link
 * PassDeviceAssumptions}, with their deviations; g the leakage conductance, which doubles every d
 * kelvin. So the output resistance is that of three paths side by side: A mu R of the loop (super
 * transistor: r_o (1 + g_m R (1 + A)) with A g_m R large), beta r_o of the base current (which loop
 * gain does not raise, since the loop holds the emitter's current), and the leakage. Source: Ohm's
 * and Kirchhoff's laws; Gray, Hurst, Lewis and Meyer, Analysis and Design of Analog Integrated
 * Circuits, 4th ed., Wiley 2001, 3.3.8 and 4.2 (from memory); the doubling is common practice, no
 * source.
 *
 * <p>Immutable and thread-safe.
 */
public final class RangeCircuitModel {
  /** Taken where no supply is stated, V (common practice, no source). */
  private static final double USUAL_SUPPLY_V = 15;

  private final RangeDesign design;
  private final double referenceDegC;
  private final double inverseGain;
  private final double loss;
  private final double leakageS;
  private final double doublesEveryK;
  private final PassDeviceAssumptions stage;
  private final double inverseOwnGain;
  private final double acrossV;
  private final List<ResistorModel> string;
  private final Optional<FirstStageModel> firstStage;
  private final int reference;
  private final int referenceTempco;
  private final int referenceCurvature;
  private final int offset;
  private final int drift;
  private final int bias;
  private final int gain;
  private final int baseLoss;
  private final int gate;
  private final int ownGain;
  private final int basePerV;
  private final int basePerK;
  private final int passDrop;
  private final int leakage;
  private final int[] drops;
  private final int supply;

  RangeCircuitModel(
      DeviationIndex deviations,
      double referenceDegC,
      PassDeviceAssumptions stage,
      RangeDesign design) {
    this.design = design;
    this.referenceDegC = referenceDegC;
    inverseGain = design.amplifier().map(a -> 1 / a.gain()).orElse(0.0);
    loss = design.passDevice().map(DesignPart.PassDevice::loss).orElse(0.0);
    leakageS = design.leakage().map(l -> 1 / l.resistanceOhm()).orElse(0.0);
    doublesEveryK = design.leakage().map(DesignPart.Leakage::doublesEveryK).orElse(10.0);
    this.stage = stage;
    inverseOwnGain = design.passDevice().map(stage::inverseGain).orElse(1.0);
    acrossV = acrossV(design);
    reference = deviations.indexOf(Kind.REFERENCE, design.reference().name());
    referenceTempco = deviations.indexOf(Kind.REFERENCE_TEMPCO, design.reference().name());
    referenceCurvature = deviations.indexOf(Kind.REFERENCE_CURVATURE, design.reference().name());
    string = design.string().stream().map(r -> new ResistorModel(deviations, r)).toList();
    firstStage = design.firstStage().map(s -> new FirstStageModel(deviations, s));
    offset = deviations.indexOf(Kind.OFFSET, design.amplifier());
    drift = deviations.indexOf(Kind.DRIFT, design.amplifier());
    bias = deviations.indexOf(Kind.BIAS, design.amplifier());
    gain = deviations.indexOf(Kind.INVERSE_GAIN, design.amplifier());
    baseLoss = deviations.indexOf(Kind.BASE_LOSS, design.passDevice());
    gate = deviations.indexOf(Kind.GATE_LEAKAGE, design.passDevice());
    ownGain = deviations.indexOf(Kind.OWN_GAIN, design.passDevice());
    basePerV = deviations.indexOf(Kind.BASE_PER_V, design.passDevice());
    basePerK = deviations.indexOf(Kind.BASE_PER_K, design.passDevice());
    passDrop = deviations.indexOf(Kind.PASS_DROP, design.passName());
    leakage = deviations.indexOf(Kind.LEAKAGE, design.leakage());
    supply = deviations.indexOf(Kind.SUPPLY, design.supply());
    drops =
        design.series().stream()
            .mapToInt(d -> deviations.indexOf(Kind.SERIES_DROP, d.name()))
            .toArray();
  }

  /**
   * The design of the range.
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
   * The current (formula in the head of this class; methods.md 10).
   *
   * @param terminalV V, voltage at the terminals, V
   * @param degC T, temperature of the unit, degC
   * @param x the deviations, as long as {@link DesignCircuit#deviations()}
   * @return I, A; the sign of the nominal current is left out
   */
  public double currentA(double terminalV, double degC, double[] x) {
    double passed = heldV(terminalV, degC, x) / resistanceOhm(degC, x);
    double leaks =
        (leakageS + at(x, leakage)) * Math.pow(2, (degC - referenceDegC) / doublesEveryK);
    return passed * (1 - baseShare(terminalV, degC, x))
        + at(x, bias)
        + at(x, gate)
        - terminalV * leaks;
  }

  /**
   * The share of the current that goes into a base (formula in the head of this class; methods.md 9
   * and 10).
   *
   * @param terminalV voltage at the terminals, V
   * @param degC temperature of the unit, degC
   * @param x the deviations, as long as {@link DesignCircuit#deviations()} or longer
   * @return b, a ratio; 0 without a bipolar pass device
   */
  public double baseShare(double terminalV, double degC, double[] x) {
    double share = loss + at(x, baseLoss);
    if (share == 0) {
      return 0;
    }
    double perK = stage.perK() + at(x, basePerK);
    return share
        * Math.exp(-perK * (degC - referenceDegC))
        * stage.baseFactor(acrossV - terminalV, at(x, basePerV));
  }

  /** What the supply leaves to the pass device at shorted terminals, V. */
  private static double acrossV(RangeDesign design) {
    double drops = design.series().stream().mapToDouble(DesignPart.SeriesDrop::voltageV).sum();
    return design.supply().map(DesignPart.Supply::voltageV).orElse(USUAL_SUPPLY_V)
        - design.setVoltageV()
        - drops;
  }

  /**
   * The voltage across the range resistor (methods.md 10).
   *
   * @param terminalV voltage at the terminals, V
   * @param degC temperature of the unit, degC
   * @param x the deviations
   * @return V_h, V
   */
  public double heldV(double terminalV, double degC, double[] x) {
    double dT = degC - referenceDegC;
    double set = design.setVoltageV();
    double curved = at(x, referenceCurvature) * dT * dT;
    double own = 1 + at(x, reference) + at(x, referenceTempco) * dT + curved;
    return set * firstStage.map(f -> f.factor(own, dT, x)).orElse(own)
        + at(x, offset)
        + at(x, drift) * dT
        - (set + terminalV * inverseOwnGain * Math.exp(-at(x, ownGain)))
            * (inverseGain + at(x, gain));
  }

  /**
   * The value of the range resistor (methods.md 10).
   *
   * @param degC temperature of the unit, degC
   * @param x the deviations
   * @return R, ohm
   */
  public double resistanceOhm(double degC, double[] x) {
    double dT = degC - referenceDegC;
    return string.stream().mapToDouble(r -> r.ohm(dT, x)).sum();
  }

  /**
   * The headroom: supply minus set voltage minus series drops minus the pass device's drop
   * (methods.md 10).
   *
   * @param x the deviations
   * @return V; empty if no supply is stated
   */
  public Optional<Double> headroomV(double[] x) {
    double used =
        design.setVoltageV() * (1 + at(x, reference))
            + stage.dropV(design.passDevice())
            + at(x, passDrop);
    for (int i = 0; i < drops.length; i++) {
      used += design.series().get(i).voltageV() + at(x, drops[i]);
    }
    double left = at(x, supply) - used;
    return design.supply().map(s -> s.voltageV() + left);
  }
}
