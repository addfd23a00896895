// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.List;
import millrace.evidence.MeasurementModel;

/**
 * The model of a range written out at one condition, with the coefficients that were found
 * (methods.md 11.1). Coefficients are means over the weights of the scatter between visits (11.2);
 * so is the value, which the equation gives to second order in D.
 *
 * @param head the result computed from y
 * @param found the coefficients
 * @param nominalA I_N, A
 * @param referenceDegC T_ref, degC
 */
record ModelEquation(
    String head, ResponseCoefficientSet found, double nominalA, double referenceDegC) {
  private static final String EQUATION =
      "%s, y = c + a t - G_0 V - G_L V (L - 1) + i_0 (L - 1) + sum b_j t^j + V sum g_kj x^k t^j"
          + " + V sum l_k x^k (L - 1)%s; t = T - T_ref, x = V/V_s, L = 2^(t/D)";

  /**
   * The equation at a condition.
   *
   * @param place the condition in coordinates of the model's terms
   * @return the equation with T_ref, T, V and the coefficients
   */
  MeasurementModel at(ResponseTerms.Place place) {
    boolean timed = found.of().contains(ResponseCoefficient.E);
    boolean supplied = found.of().contains(ResponseCoefficient.K_S);
    MeasurementModel model =
        MeasurementModel.of(
                EQUATION.formatted(
                    head, (timed ? " + e h" : "") + (supplied ? " + k_S (S - S_ref)" : "")))
            .with("I_N", "A", nominalA)
            .with("T_ref", "degC", referenceDegC)
            .with("T", "degC", referenceDegC + place.t())
            .with("V", "V", place.v())
            .with("V_s", "V", found.scaleV());
    model = timed ? model.with("h", "h", place.h()) : model;
    model = supplied ? model.with("S - S_ref", "V", place.s()) : model;
    List<ResponseCoefficient> of = found.of();
    double[] values = found.values();
    for (int i = 0; i < values.length; i++) {
      model = model.with(of.get(i).text(), of.get(i).unit(), values[i]);
    }
    return model;
  }
}
