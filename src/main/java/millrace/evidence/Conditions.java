package millrace.evidence;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The conditions that a point was asked to be taken under: settings, not measurements.
 *
 * @param range the unit's range; empty where none is selected
 * @param nominalA nominal current of that range, A; not 0
 * @param temperatureDegC setpoint of the chamber, degC
 * @param loadOhm what the load was set to, ohm, 0 or more; for imported readings everything in
 *     series
 * @param terminalVoltageV the voltage that was asked for at the terminals, V
 * @param supplyV what the supply was set to, V
 * @param setA what a settable source was set to, A
 * @param direction in which direction the load was swept
 * @param slot which slot of the bench the unit sits in
 * @param visit how many times these conditions were visited before, from 0
 */
public record Conditions(
    Optional<String> range,
    OptionalDouble nominalA,
    OptionalDouble temperatureDegC,
    OptionalDouble loadOhm,
    OptionalDouble terminalVoltageV,
    OptionalDouble supplyV,
    OptionalDouble setA,
    Optional<Direction> direction,
    Optional<String> slot,
    int visit) {

  /** Nothing asked for. */
  public static final Conditions NONE =
      new Conditions(
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
  public Conditions {
    if (loadOhm.isPresent() && !(loadOhm.getAsDouble() >= 0)) {
      throw new IllegalArgumentException(
          "load is " + loadOhm.getAsDouble() + " ohm, must be 0 or more");
    }
    if (visit < 0) {
      throw new IllegalArgumentException("visit is " + visit + ", must be 0 or more");
    }
  }
}
