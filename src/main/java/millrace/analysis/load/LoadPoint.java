// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * One point of a load sweep.
 *
 * @param key its name, different for each point
 * @param voltageV voltage at the unit's terminals, V
 * @param currentA current out of the unit, A
 * @param loadOhm what the load was set to, ohm, 0 or more; empty where only the voltage is known
 * @param timeS when, s; the same for all where it is not known
 * @param unsteady true if its readings scatter abnormally (PooledNoise.unsteady): it is left out of
 *     line and bracket, with a note
 * @param kneeOnly true if it was taken while the unit still came to temperature: it serves to find
 *     the knee and is left out of the line
 */
public record LoadPoint(
    String key,
    Estimate voltageV,
    Estimate currentA,
    OptionalDouble loadOhm,
    double timeS,
    boolean unsteady,
    boolean kneeOnly) {

  /** Checks the load. */
  public LoadPoint {
    if (loadOhm.isPresent() && !(loadOhm.getAsDouble() >= 0)) {
      throw new IllegalArgumentException(
          "load is " + loadOhm.getAsDouble() + " ohm, must be 0 or more");
    }
  }

  LoadPoint withCurrent(Estimate amperes) {
    return new LoadPoint(key, voltageV, amperes, loadOhm, timeS, unsteady, kneeOnly);
  }
}
