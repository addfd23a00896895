// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.datasheet.Datasheet;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.quantity.TimeSpanSeconds;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;

/**
 * The expected current of a unit: that of nominal parts, shifted to the results of an earlier unit
 * where there is one. Immutable, thread-safe.
 */
final class ExpectedUnit {
  private static final double PLATEAU_V = 1;

  private final Datasheet datasheet;
  private final SimulatedUnit nominal;
  private final Map<String, Double> supplyV;
  private final Earlier earlier;

  /**
   * Makes a unit as its datasheet describes it.
   *
   * @param datasheet the promises for it, and its parts
   * @param earlier the results of an earlier unit
   */
  ExpectedUnit(Datasheet datasheet, Earlier earlier) {
    SimulatedUnitSpec spec = SimulatedUnitFromDatasheet.of(datasheet);
    this.datasheet = datasheet;
    this.nominal = SimulatedUnit.nominal(spec);
    this.supplyV =
        spec.ranges().stream()
            .collect(Collectors.toMap(SimulatedUnitSpec.Range::name, r -> r.supply().volts()));
    this.earlier = earlier;
  }

  /** The usual noise of such a unit. */
  SimulatedUnitSpec.Noise noise() {
    return nominal.spec().noise();
  }

  /** The time constant with which it follows the air around it, s. */
  double lagS() {
    return nominal.spec().warmth().lagS();
  }

  /**
   * What is left of the warm-up: that of the usual unit, which has been on for as long as its
   * datasheet asks when the run begins, and is switched on then where the datasheet asks nothing.
   *
   * @param runningS since the beginning of the run, s
   * @return a ratio of the current
   */
  double warmUp(double runningS) {
    double beforeS = datasheet.warmUp().map(TimeSpanSeconds::seconds).orElse(0.0);
    return nominal.warmUp(beforeS + runningS);
  }

  /**
   * The current at a voltage.
   *
   * @param range the name of a range of the datasheet
   * @param terminalV voltage at its terminals, V, 0 or more
   * @param degC its temperature
   * @param suppliedV its supply, V; empty for its design supply
   * @return in A, with the sign of the range
   */
  double currentA(String range, double terminalV, double degC, OptionalDouble suppliedV) {
    double designV = supplyV.getOrDefault(range, 0.0);
    double supply = suppliedV.orElse(designV);
    double plain =
        nominal.currentA(range, terminalV, degC, supply)
            + besidesAPerV(range, degC, supply) * terminalV;
    double moved =
        plain * (1 + earlier.errorOf(range, degC - datasheet.referenceTemperatureDegC()));
    return Math.copySign(moved, datasheet.ranges().get(range).nominalA());
  }

  /**
   * The difference between the earlier unit's slope over its load and the nominal slope, A/V.
   * Leakage grows with the temperature, and the difference in proportion.
   */
  private double besidesAPerV(String range, double degC, double suppliedV) {
    Optional<Double> seen = earlier.perVoltOf(range);
    if (seen.isEmpty()) {
      return 0;
    }
    double meant = slopeAPerV(range, datasheet.referenceTemperatureDegC(), suppliedV);
    double wanted = seen.get() * nominal.currentA(range, 0, degC, suppliedV);
    return meant == 0 ? wanted : (wanted / meant - 1) * slopeAPerV(range, degC, suppliedV);
  }

  /** Over the first volts, where every unit is on its plateau. */
  private double slopeAPerV(String range, double degC, double suppliedV) {
    return (nominal.currentA(range, PLATEAU_V, degC, suppliedV)
            - nominal.currentA(range, 0, degC, suppliedV))
        / PLATEAU_V;
  }
}
