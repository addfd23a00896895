// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/**
 * Refuses set points beyond the limits of an instrument. A driver checks a number here before it
 * sends it.
 */
public interface SetPointGate {
  /** Refuses nothing. */
  SetPointGate OPEN = (role, setting, value) -> {};

  /**
   * Refuses a number beyond the limits of the bench file.
   *
   * @param role the role in which it is set
   * @param setting what is set: voltage, current, temperature or rate
   * @param value in base units; not a number where it is not known, which is refused where anything
   *     is stated
   * @throws millrace.fault.InstrumentException if it is beyond; it must not be sent then
   */
  void refuseBeyond(RoleName role, String setting, double value);
}
