// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * The true values of one range of one unit, and its current: the voltage across a resistor gives
 * the current, less bias, base or gate current and leakage to ground at the output. The current
 * collapses gradually when the headroom is used up.
 *
 * @param setV nominal voltage across the resistor, V
 * @param referenceError relative
 * @param referenceTempcoPerK 1/K
 * @param resistorOhm true value at 23 degC, ohm
 * @param resistorTempcoPerK 1/K
 * @param offsetV of the amplifier, V
 * @param driftVPerK of offsetV, V/K
 * @param takenA current of bias and gate at 23 degC, A
 * @param gain of the amplifier
 * @param base the base current of the pass device
 * @param perV relative fall of the current per volt at the output, 1/V
 * @param dropV in series at 23 degC, V
 * @param dropVPerK of dropV, V/K
 * @param leakS conductance to ground at 23 degC, S
 * @param leakDoublesK K
 * @param designSupplyV supply voltage at which the values hold, V
 * @param lostSupplyV the loss of supply voltage inside this unit, V
 * @param supplyPerV relative rise of the current per volt of supply, 1/V
 * @param kneeSoftnessV V
 */
record TrueRange(
    double setV,
    double referenceError,
    double referenceTempcoPerK,
    double resistorOhm,
    double resistorTempcoPerK,
    double offsetV,
    double driftVPerK,
    double takenA,
    double gain,
    PassDeviceBaseCurrent base,
    double perV,
    double dropV,
    double dropVPerK,
    double leakS,
    double leakDoublesK,
    double designSupplyV,
    double lostSupplyV,
    double supplyPerV,
    double kneeSoftnessV) {
  private static final double JUNCTIONS_DOUBLE_K = 10;

  /** The conditions of a current. */
  double currentA(double terminalV, double unitDegC, double fedV) {
    double supplyV = fedV - lostSupplyV;
    double warmer = unitDegC - SimulatedUnitSpec.REFERENCE_DEGC;
    double regulated =
        regulatedA(terminalV, warmer)
            * (1 - perV * terminalV + supplyPerV * (supplyV - designSupplyV));
    return regulated * knee(supplyV - setV - dropV - dropVPerK * warmer - terminalV)
        - terminalV * leakS(warmer);
  }

  /** The current before the output: Ohm's law on the range resistor. */
  private double regulatedA(double terminalV, double warmer) {
    double held =
        setV * (1 + referenceError + referenceTempcoPerK * warmer) * gain / (1 + gain)
            + offsetV
            + driftVPerK * warmer;
    double set = held / (resistorOhm * (1 + resistorTempcoPerK * warmer));
    return (set - takenA * doubling(warmer, JUNCTIONS_DOUBLE_K)) * base.passed(terminalV, warmer);
  }

  private double leakS(double warmer) {
    return leakS * doubling(warmer, leakDoublesK);
  }

  private static double doubling(double warmer, double everyK) {
    return Math.exp(Math.log(2) * warmer / everyK);
  }

  /** 1 while there is headroom; 0 where there is none. */
  private double knee(double headroomV) {
    return headroomV <= 0 ? 0 : -Math.expm1(-headroomV / kneeSoftnessV);
  }

  /** The voltage at which no headroom is left, V. */
  double collapseV(double unitDegC, double fedV) {
    return fedV
        - lostSupplyV
        - setV
        - dropV
        - dropVPerK * (unitDegC - SimulatedUnitSpec.REFERENCE_DEGC);
  }

  /** -dI/dV where there is headroom, S. */
  double plateauS(double unitDegC) {
    double warmer = unitDegC - SimulatedUnitSpec.REFERENCE_DEGC;
    return regulatedA(0, warmer) * (perV + base.perV(warmer)) + leakS(warmer);
  }
}
