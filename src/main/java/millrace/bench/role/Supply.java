// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/** Feeds the unit. Read as a sensor it gives its voltage. */
public interface Supply extends Sensor {
  /**
   * Sets the voltage.
   *
   * @param voltageV V, 0 or more
   * @throws millrace.fault.InstrumentException if the supply refuses or does not answer
   */
  void set(double voltageV);

  /**
   * Sets its current limit, if it has one.
   *
   * @param currentA A, above 0
   * @throws millrace.fault.InstrumentException if the supply refuses or does not answer
   */
  default void limit(double currentA) {}

  /**
   * Switches its output.
   *
   * @param on true for on
   * @throws millrace.fault.InstrumentException if the supply refuses or does not answer
   */
  void output(boolean on);

  /**
   * Reads the current that the unit takes, for an interlock: also if the link was reopened.
   *
   * @return the reply, A
   * @throws millrace.fault.InstrumentException if the supply does not answer
   */
  Reply readCurrent();
}
