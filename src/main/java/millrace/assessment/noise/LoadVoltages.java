// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.PointConditions;

/** The voltage that the load of a point is set for. Stateless. */
final class LoadVoltages {
  private LoadVoltages() {}

  /**
   * Of a point.
   *
   * @param tally the point
   * @return load x nominal current, or the terminal voltage that was set, V, from 0; 0 if neither
   *     is known
   */
  static double of(PointReadingTally tally) {
    PointConditions c = tally.point().conditions();
    double acrossLoad = c.loadOhm().orElse(0) * Math.abs(c.nominalA().orElse(0));
    double volts = c.loadOhm().isPresent() ? acrossLoad : c.terminalVoltageV().orElse(0);
    return Double.isFinite(volts) ? Math.abs(volts) : 0;
  }
}
