// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/** Anything that can be asked for one number: a meter, a thermometer, a hygrometer. */
public interface Sensor {
  /**
   * Takes one reading.
   *
   * @return the reply, in the base unit of the signal
   * @throws millrace.fault.InstrumentException if the instrument does not answer
   */
  Reply read();

  /**
   * Takes a reading after which no other of this role follows at a point: what {@link
   * Instrument#check} has to know may be asked in the same message.
   *
   * @return the reply, in the base unit of the signal
   * @throws millrace.fault.InstrumentException if the instrument does not answer, or was switched
   *     off and on
   */
  default Reply readLast() {
    return read();
  }

  /**
   * Takes one reading for an interlock, which is not stored. It works even if settings are in doubt
   * because the link was reopened.
   *
   * @return the reply, in the base unit of the signal
   * @throws millrace.fault.InstrumentException if the instrument does not answer
   */
  default Reply glance() {
    return read();
  }
}
