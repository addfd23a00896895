// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.List;

/** Sets the resistance that the unit drives. */
public interface Load {
  /**
   * Sets a resistance and returns when the load has confirmed it.
   *
   * @param resistanceOhm nominal resistance, ohm, 0 or more
   * @throws millrace.fault.InstrumentException if the load refuses or does not answer
   */
  void set(double resistanceOhm);

  /**
   * Shorts the output, or removes the short.
   *
   * @param shorted true to short
   * @throws millrace.fault.InstrumentException if the load refuses or does not answer
   */
  void shortCircuit(boolean shorted);

  /**
   * Tells whether it can short the output.
   *
   * @return false if {@link #shortCircuit} would be refused
   */
  boolean canShort();

  /**
   * The resistances that it can be set to, if they are a fixed list.
   *
   * @return nominal resistances, ohm, rising; empty if it takes any
   */
  default List<Double> settingsOhm() {
    return List.of();
  }
}
