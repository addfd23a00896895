// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import millrace.analysis.design.DesignDeviation.Kind;

/**
 * The value of one resistor as a function of deviations: R_0 (1 + x_net + x_res + (x_nettc +
 * x_restc) dT + (x_netb + x_resb) dT^2) (methods.md 10). Immutable.
 */
final class ResistorModel {
  private final double ohm;
  private final int network;
  private final int networkTempco;
  private final int networkCurvature;
  private final int own;
  private final int ownTempco;
  private final int ownCurvature;

  ResistorModel(DeviationIndex deviations, DesignPart.Resistor r) {
    ohm = r.valueOhm();
    network = deviations.indexOf(Kind.NETWORK, r.network());
    networkTempco = deviations.indexOf(Kind.NETWORK_TEMPCO, r.network());
    networkCurvature = deviations.indexOf(Kind.NETWORK_CURVATURE, r.network());
    own = deviations.indexOf(Kind.RESISTOR, r.name());
    ownTempco = deviations.indexOf(Kind.RESISTOR_TEMPCO, r.name());
    ownCurvature = deviations.indexOf(Kind.RESISTOR_CURVATURE, r.name());
  }

  private static double at(double[] x, int i) {
    return i < 0 ? 0 : x[i];
  }

  double nominalOhm() {
    return ohm;
  }

  double ohm(double dT, double[] x) {
    double off = at(x, network) + at(x, own);
    double tempco = at(x, networkTempco) + at(x, ownTempco);
    double curvature = at(x, networkCurvature) + at(x, ownCurvature);
    return ohm * (1 + off + tempco * dT + curvature * dT * dT);
  }
}
