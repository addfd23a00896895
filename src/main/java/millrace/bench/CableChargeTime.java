// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

/** How long the cable of a loop takes to charge (methods.md 1.6). */
public final class CableChargeTime {
  /** The share of a step that may remain, a ratio. */
  private static final double REST = 1e-7;

  private CableChargeTime() {}

  /**
   * After a step from a short to a load: C dV/I + ln(1/x) C R, at least (methods.md 1.6).
   *
   * @param wiring states the cable's capacitance
   * @param loadOhm the load, ohm, 0 or more
   * @return s, 0 or more
   */
  public static double seconds(BenchFile.Wiring wiring, double loadOhm) {
    return wiring.cableCapacitanceF() * loadOhm * (1 - Math.log(REST));
  }
}
