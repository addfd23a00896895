// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.datasheet.Datasheet;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;

/**
 * The current that is expected of a unit: of its parts as they are meant to be, moved to what an
 * earlier unit showed where there is one. Immutable, thread-safe.
 */
final class ExpectedUnit {
  private static final double PLATEAU_V = 1;

  private final Datasheet datasheet;
  private final SimulatedUnit nominal;
  private final Map<String, Double> supplyV;
  private final Earlier earlier;

  /**
   * A unit as its datasheet means it to be.
   *
   * @param datasheet what it promises, and what it is made of
   * @param earlier what an earlier unit showed
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

  /** The noise that is usual of such a unit. */
  SimulatedUnitSpec.Noise noise() {
    return nominal.spec().noise();
  }

  /** How long it takes to follow the air around it, s. */
  double lagS() {
    return nominal.spec().warmth().lagS();
  }

  /**
   * The current into a voltage.
   *
   * @param range the name of a range of the datasheet
   * @param terminalV at its terminals, V, 0 or more
   * @param degC its temperature
   * @param suppliedV its supply, V; empty for the one it is made for
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
   * By how much the slope of the earlier unit over its load differed from what is meant, A/V. What
   * leaks grows with the temperature, and the difference in proportion.
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
