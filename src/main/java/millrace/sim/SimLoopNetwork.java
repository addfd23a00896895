// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Set;
import millrace.sim.fault.SimFault;

/**
 * The network of the loop: the effect of one volt at the unit's terminals. It includes wrong
 * wiring.
 *
 * @param conductanceS conductance at the unit's terminals, S
 * @param meterS current through the meter per volt at the terminals, S
 * @param loadShare voltage at the voltmeter per volt at the terminals
 */
record SimLoopNetwork(double conductanceS, double meterS, double loadShare) {
  private static final double NEXT_TO_NOTHING_S = 1e-14;

  /**
   * The elements of the loop.
   *
   * @param loadOhm the load, ohm
   * @param burdenOhm of the current meter, ohm, above 0
   * @param leadsOhm of the leads, ohm
   * @param inputOhm of the voltmeter, ohm
   * @param insulationOhm from the high lead to ground, ohm
   */
  record Parts(
      double loadOhm, double burdenOhm, double leadsOhm, double inputOhm, double insulationOhm) {}

  static SimLoopNetwork of(Parts p, boolean upstream, Set<SimFault.Kind> wrong) {
    double shunt = 1 / p.insulationOhm() + (upstream ? 1 / p.inputOhm() : 0);
    double across =
        upstream ? p.loadOhm() : p.loadOhm() * p.inputOhm() / (p.loadOhm() + p.inputOhm());
    SimLoopNetwork simLoopNetwork = wired(p, across, shunt, wrong);
    SimLoopNetwork seen =
        upstream
            ? new SimLoopNetwork(simLoopNetwork.conductanceS, simLoopNetwork.meterS, 1)
            : simLoopNetwork;
    return wrong.contains(SimFault.Kind.LEADS_REVERSED) ? seen.reversed() : seen;
  }

  /** The same with the unit's leads exchanged. */
  SimLoopNetwork reversed() {
    return new SimLoopNetwork(conductanceS, -meterS, -loadShare);
  }

  private static SimLoopNetwork wired(
      Parts p, double across, double shunt, Set<SimFault.Kind> wrong) {
    if (wrong.contains(SimFault.Kind.LEAD_OPEN) || wrong.contains(SimFault.Kind.FUSE_BLOWN)) {
      return new SimLoopNetwork(shunt + NEXT_TO_NOTHING_S, 0, 0);
    }
    if (wrong.contains(SimFault.Kind.METER_ACROSS_OUTPUT)) {
      double beside = across + p.leadsOhm();
      double meterS = 1 / p.burdenOhm();
      return new SimLoopNetwork(1 / beside + meterS + shunt, meterS, across / beside);
    }
    double series = across + p.burdenOhm() + p.leadsOhm();
    return new SimLoopNetwork(1 / series + shunt, 1 / series, across / series);
  }
}
