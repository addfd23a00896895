// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.SplittableRandom;

/**
 * A unit as nature would build it: what its current is at any voltage and temperature, by the
 * physics of its parts and not by the form that is fitted. The parts' spreads were chosen from what
 * such parts are known to do (common practice, no source), none from the defaults of methods.md
 * 11.1. The knee's softness is that of a bipolar device near saturation, 30 to 60 mV.
 *
 * @param nominalA I_N, A
 * @param loadsV terminal voltages that a night measures, V
 * @param ratio I/I_N - 1 by voltage, V, and temperature, degC
 */
record TrueCurve(double nominalA, double[] loadsV, Ratio ratio) {
  private static final int LOADS = 12;

  /** I/I_N - 1. */
  @FunctionalInterface
  interface Ratio {
    double at(double volts, double degC);
  }

  double y(double volts, double degC) {
    return ratio.at(volts, degC);
  }

  /** One of many random units: reference, resistor, pass device, leakage, knee. */
  static TrueCurve random(SplittableRandom chance) {
    double nominal = Math.pow(10, -6 + chance.nextInt(5));
    double compliance = 5 + 20 * chance.nextDouble();
    double[] loads = new double[LOADS];
    for (int k = 0; k < LOADS; k++) {
      loads[k] = 1.1 * compliance * k / (LOADS - 1);
    }
    double error = 150e-6 * chance.nextGaussian();
    Ratio reference = reference(chance);
    Ratio resistor = resistor(chance);
    Ratio pass = chance.nextBoolean() ? bipolar(chance) : insulatedGate(chance);
    Ratio leak = leakage(chance, nominal);
    double soft =
        Double.parseDouble(System.getProperty("soft", "0.03")) * (1 + chance.nextDouble());
    double kneeV = 1.04 * compliance;
    double kneePerK = 0.004 * chance.nextGaussian();
    Ratio knee =
        (v, t) -> -Math.log1p(Math.exp((v - kneeV - kneePerK * (t - 23)) / soft)) * soft / kneeV;
    return new TrueCurve(
        nominal,
        loads,
        (v, t) ->
            error
                + reference.at(v, t)
                + resistor.at(v, t)
                + pass.at(v, t)
                + leak.at(v, t)
                + knee.at(v, t));
  }

  /**
   * A band-gap reference: a slope that was trimmed away in part, a parabola, a little third order.
   */
  private static Ratio reference(SplittableRandom chance) {
    double slope = 3e-6 * chance.nextGaussian();
    double bow = -(0.01e-6 + 0.06e-6 * chance.nextDouble());
    double top = 20 + 20 * chance.nextDouble();
    double third = 0.15e-9 * chance.nextGaussian();
    return (v, t) ->
        slope * (t - 23)
            + bow * (sq(t - top) - sq(23 - top))
            + third * (Math.pow(t - top, 3) - Math.pow(23 - top, 3));
  }

  /** A metal-foil or film resistor. */
  private static Ratio resistor(SplittableRandom chance) {
    double slope = (chance.nextBoolean() ? 1e-6 : 6e-6) * chance.nextGaussian();
    double bow = 0.015e-6 * chance.nextGaussian();
    return (v, t) -> slope * (t - 23) + bow * sq(t - 23);
  }

  /**
   * A Darlington or a single transistor behind the resistor: the base takes 1/beta, beta grows as
   * (T/296 K)^XTB and with the voltage over the transistor.
   */
  private static Ratio bipolar(SplittableRandom chance) {
    double beta =
        chance.nextBoolean() ? 3000 + 10000 * chance.nextDouble() : 250 + 250 * chance.nextDouble();
    double early = 60 + 120 * chance.nextDouble();
    double power = 1.2 + 0.6 * chance.nextDouble();
    double supply = 30;
    return (v, t) -> {
      double now = beta * Math.pow((t + 273.15) / 296.15, power) * (1 + (supply - v) / early);
      return 1 / (beta * (1 + supply / early) + 1) - 1 / (now + 1);
    };
  }

  /** A field-effect device inside a loop of finite gain. */
  private static Ratio insulatedGate(SplittableRandom chance) {
    double perV = 0.5e-6 * Math.exp(chance.nextGaussian());
    double bend = 0.15 * chance.nextGaussian();
    double perK = 0.003 * chance.nextGaussian();
    return (v, t) -> -perV * v * (1 + perK * (t - 23)) * (1 + bend * v / 20);
  }

  /** Leakage of the output stage and the board: an ohmic part and a junction's. */
  private static Ratio leakage(SplittableRandom chance, double nominal) {
    double ohm = 1e11 * Math.pow(10, 2 * chance.nextDouble()) * Math.min(10, 1e-4 / nominal + 0.1);
    double doubles = 7.5 + 5 * chance.nextDouble();
    double junctionA = 1e-12 * Math.exp(chance.nextGaussian());
    double grading = 0.3 + 0.3 * chance.nextDouble();
    return (v, t) -> {
      double factor = Math.pow(2, (t - 23) / doubles);
      double junction = junctionA * factor * (Math.pow(1 + v / 0.7, grading) - 1);
      return -(v / ohm * factor + junction) / nominal;
    };
  }

  private static double sq(double x) {
    return x * x;
  }
}
