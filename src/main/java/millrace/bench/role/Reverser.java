// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/**
 * Exchanges the leads of a unit at the meters. Errors that do not change sign with them, such as
 * zeros, then cancel (methods.md 1.4). The unit must float.
 */
public interface Reverser {
  /**
   * Exchanges the leads, or restores them.
   *
   * @param reversed true for exchanged
   * @throws millrace.fault.InstrumentException if the switch refuses or does not answer
   */
  void reverse(boolean reversed);
}
