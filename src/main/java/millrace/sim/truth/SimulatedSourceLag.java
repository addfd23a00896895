// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * The rise of the current of a slow source after it is switched on. Guarded by the circuit's lock.
 */
public final class SimulatedSourceLag {
  private double timeConstantS;
  private double share;
  private double atS;

  /** From now on with this time constant, s; at once for 0. */
  public void slow(double byS) {
    timeConstantS = byS;
  }

  /**
   * The share of the whole current that flows now.
   *
   * @param on whether the source is on, and was since the last call
   * @param nowS the time, s
   */
  public double after(boolean on, double nowS) {
    double end = on ? 1 : 0;
    double left = timeConstantS > 0 ? Math.exp((atS - nowS) / timeConstantS) : 0;
    share = end + (share - end) * left;
    atS = nowS;
    return share;
  }
}
