// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The requested conditions of a point: settings, not measurements.
 *
 * @param range the unit's range; empty where none is selected
 * @param nominalA nominal current of that range, A; not 0
 * @param temperatureDegC setpoint of the chamber, degC
 * @param loadOhm setting of the load, ohm, 0 or more; for imported readings everything in series
 * @param terminalVoltageV requested voltage at the terminals, V
 * @param supplyV setting of the supply, V
 * @param setA setting of a settable source, A
 * @param direction direction of the load sweep
 * @param slot slot of the bench that holds the unit
 * @param visit number of earlier visits to these conditions, from 0
 */
public record PointConditions(
    Optional<String> range,
    OptionalDouble nominalA,
    OptionalDouble temperatureDegC,
    OptionalDouble loadOhm,
    OptionalDouble terminalVoltageV,
    OptionalDouble supplyV,
    OptionalDouble setA,
    Optional<SweepDirection> direction,
    Optional<String> slot,
    int visit) {

  /** No conditions requested. */
  public static final PointConditions NONE =
      new PointConditions(
          Optional.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          Optional.empty(),
          Optional.empty(),
          0);

  /** Checks ranges. */
  public PointConditions {
    if (loadOhm.isPresent() && !(loadOhm.getAsDouble() >= 0)) {
      throw new IllegalArgumentException(
          "load is " + loadOhm.getAsDouble() + " ohm, must be 0 or more");
    }
    if (visit < 0) {
      throw new IllegalArgumentException("visit is " + visit + ", must be 0 or more");
    }
  }

  /**
   * The same in a range.
   *
   * @param name its name
   * @param nominal its nominal current, A
   * @return the changed conditions
   */
  public PointConditions inRange(String name, double nominal) {
    return new PointConditions(
        Optional.of(name),
        OptionalDouble.of(nominal),
        temperatureDegC,
        loadOhm,
        terminalVoltageV,
        supplyV,
        setA,
        direction,
        slot,
        visit);
  }

  /**
   * The same at a temperature.
   *
   * @param degC setpoint, degC
   * @return the changed conditions
   */
  public PointConditions atTemperature(double degC) {
    return new PointConditions(
        range,
        nominalA,
        OptionalDouble.of(degC),
        loadOhm,
        terminalVoltageV,
        supplyV,
        setA,
        direction,
        slot,
        visit);
  }

  /**
   * The same at a load.
   *
   * @param ohm its setting, ohm
   * @param volt the requested terminal voltage, V
   * @param sweep the direction of the sweep
   * @return the changed conditions
   */
  public PointConditions atLoad(double ohm, OptionalDouble volt, Optional<SweepDirection> sweep) {
    return new PointConditions(
        range,
        nominalA,
        temperatureDegC,
        OptionalDouble.of(ohm),
        volt,
        supplyV,
        setA,
        sweep,
        slot,
        visit);
  }

  /**
   * The same at a supply voltage.
   *
   * @param volt V
   * @return the changed conditions
   */
  public PointConditions atSupply(double volt) {
    return new PointConditions(
        range,
        nominalA,
        temperatureDegC,
        loadOhm,
        terminalVoltageV,
        OptionalDouble.of(volt),
        setA,
        direction,
        slot,
        visit);
  }

  /**
   * The same at a set current.
   *
   * @param ampere A
   * @return the changed conditions
   */
  public PointConditions atSet(double ampere) {
    return new PointConditions(
        range,
        nominalA,
        temperatureDegC,
        loadOhm,
        terminalVoltageV,
        supplyV,
        OptionalDouble.of(ampere),
        direction,
        slot,
        visit);
  }

  /**
   * The same in a slot.
   *
   * @param name its name
   * @return the changed conditions
   */
  public PointConditions inSlot(String name) {
    return new PointConditions(
        range,
        nominalA,
        temperatureDegC,
        loadOhm,
        terminalVoltageV,
        supplyV,
        setA,
        direction,
        Optional.of(name),
        visit);
  }

  /**
   * The same on another visit.
   *
   * @param number from 0
   * @return the changed conditions
   */
  public PointConditions onVisit(int number) {
    return new PointConditions(
        range,
        nominalA,
        temperatureDegC,
        loadOhm,
        terminalVoltageV,
        supplyV,
        setA,
        direction,
        slot,
        number);
  }
}
