// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/**
 * Lets through what an instrument may be told, and nothing beyond it. A driver that is about to set
 * a number asks here first.
 */
public interface SetPointGate {
  /** Nothing is held back. */
  SetPointGate OPEN = (role, setting, value) -> {};

  /**
   * Refuses a number that is beyond what the bench file allows.
   *
   * @param role the role in which it is set
   * @param setting what is set: voltage, current, temperature or rate
   * @param value in base units; not a number where it is not known, which is refused where anything
   *     is stated
   * @throws millrace.fault.InstrumentException if it is beyond; it must not be sent then
   */
  void refuseBeyond(RoleName role, String setting, double value);
}
