// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.OptionalDouble;

/** The quantities that a design predicts (methods.md 10). */
final class DesignQuantities {
  /** Distance to either side of T_ref over which a curvature is computed, K. */
  private static final double CURVED_K = 10;

  private DesignQuantities() {}

  /** The terminal voltage at the reference load, from the nominal current, V. */
  static double terminalV(RangeDesign design) {
    return Math.abs(design.nominalA()) * design.loadOhm();
  }

  /** The current at the reference load and T_ref, with the sign of the nominal one, A. */
  static DesignQuantity current(DesignCircuit circuit, RangeCircuitModel range) {
    double v = terminalV(range.design());
    double sign = Math.signum(range.design().nominalA());
    return x -> OptionalDouble.of(sign * range.currentA(v, circuit.referenceDegC(), x));
  }

  /** I/I_N - 1, ppm of I_N. */
  static DesignQuantity currentError(DesignCircuit circuit, RangeCircuitModel range) {
    DesignQuantity current = current(circuit, range);
    double nominal = range.design().nominalA();
    return x -> OptionalDouble.of((current.of(x).orElseThrow() / nominal - 1) * 1e6);
  }

  /** dI/dT at T_ref, ppm of the current there per kelvin. */
  static DesignQuantity tempco(DesignCircuit circuit, RangeCircuitModel range) {
    double v = terminalV(range.design());
    double t = circuit.referenceDegC();
    return x -> {
      double rise = range.currentA(v, t + 0.5, x) - range.currentA(v, t - 0.5, x);
      return OptionalDouble.of(rise / range.currentA(v, t, x) * 1e6);
    };
  }

  /** Half of d2I/dT2 about T_ref, ppm of the current there per kelvin squared. */
  static DesignQuantity curvature(DesignCircuit circuit, RangeCircuitModel range) {
    double v = terminalV(range.design());
    double t = circuit.referenceDegC();
    return x -> {
      double middle = range.currentA(v, t, x);
      double ends = range.currentA(v, t + CURVED_K, x) + range.currentA(v, t - CURVED_K, x);
      return OptionalDouble.of((ends / middle - 2) / (2 * CURVED_K * CURVED_K) * 1e6);
    };
  }

  /** 1/G with G = -dI/dV at T_ref, ohm, the mean slope over the first volt. */
  static DesignQuantity outputResistance(DesignCircuit circuit, RangeCircuitModel range) {
    double t = circuit.referenceDegC();
    return x -> {
      double conductance = range.currentA(0, t, x) - range.currentA(1, t, x);
      double rounding = 1e-12 * range.currentA(0, t, x);
      return conductance > rounding ? OptionalDouble.of(1 / conductance) : OptionalDouble.empty();
    };
  }

  /** The headroom, V. */
  static DesignQuantity compliance(RangeCircuitModel range) {
    return x -> range.headroomV(x).map(OptionalDouble::of).orElse(OptionalDouble.empty());
  }

  /** (I_a/I_b)/(I_Na/I_Nb) - 1, ppm. */
  static DesignQuantity ratio(DesignCircuit circuit, RangeCircuitModel a, RangeCircuitModel b) {
    DesignQuantity ofA = currentError(circuit, a);
    DesignQuantity ofB = currentError(circuit, b);
    return x ->
        OptionalDouble.of(
            ((1 + ofA.of(x).orElseThrow() / 1e6) / (1 + ofB.of(x).orElseThrow() / 1e6) - 1) * 1e6);
  }

  /** Relative slope of I_a/I_b over temperature, ppm/K. */
  static DesignQuantity tracking(DesignCircuit circuit, RangeCircuitModel a, RangeCircuitModel b) {
    DesignQuantity ofA = tempco(circuit, a);
    DesignQuantity ofB = tempco(circuit, b);
    return x -> OptionalDouble.of(ofA.of(x).orElseThrow() - ofB.of(x).orElseThrow());
  }
}
