// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/** Holds the unit at a temperature. */
public interface Chamber extends Sensor {
  /**
   * Sets the set point.
   *
   * @param temperatureDegC setpoint, degC
   * @param rampKPerS the fastest change, K/s, above 0; infinite for as fast as it can
   * @throws millrace.fault.InstrumentException if the chamber refuses or does not answer
   */
  void setpoint(double temperatureDegC, double rampKPerS);

  /**
   * Tells whether its ramp can be set.
   *
   * @return false if the ramp of {@link #setpoint} has no effect
   */
  default boolean canRamp() {
    return true;
  }

  /**
   * The sensor of its door.
   *
   * @return answers true if the door is open, and throws an {@link
   *     millrace.fault.InstrumentException} if the chamber does not tell; empty if it has none
   */
  default Optional<BooleanSupplier> door() {
    return Optional.empty();
  }

  /**
   * The query for its alarm, for example of its own over-temperature protection.
   *
   * @return answers the alarm as the chamber words it, or empty where there is none, and throws an
   *     {@link millrace.fault.InstrumentException} if the chamber does not tell; empty if it cannot
   *     be asked
   */
  default Optional<Supplier<Optional<String>>> alarm() {
    return Optional.empty();
  }
}
