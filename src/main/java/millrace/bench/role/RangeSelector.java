// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/** Selects the unit's range. */
public interface RangeSelector {
  /**
   * Selects a range.
   *
   * @param range its name in the datasheet
   * @throws millrace.fault.InstrumentException if the selector refuses or does not answer
   */
  void select(String range);

  /**
   * Switches the source on or off, where the selector can.
   *
   * @param on true for on
   * @throws millrace.fault.InstrumentException if the selector refuses or does not answer
   */
  void output(boolean on);

  /**
   * Tells whether it can switch the source.
   *
   * @return false if {@link #output} would be refused
   */
  boolean canSwitchOutput();
}
