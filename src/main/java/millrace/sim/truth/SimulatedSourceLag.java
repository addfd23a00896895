// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * The rise of the current of a slow source after it is switched on. Guarded by the circuit's lock.
 */
public final class SimulatedSourceLag {
  private double timeConstantS;
  private double share;
  private double atS;

  /** Sets the time constant from now on, s; 0 for none. */
  public void slow(double byS) {
    timeConstantS = byS;
  }

  /**
   * The present share of the full current.
   *
   * @param on whether the source is on, and has been since the last call
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
