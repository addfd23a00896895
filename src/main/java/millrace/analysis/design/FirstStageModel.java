// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import millrace.analysis.design.DesignDeviation.Kind;

/**
 * The set voltage behind a first stage: the reference, held across a resistor, sets a current, and
 * a top resistor drops it. As a factor on the nominal set voltage: ((V_ref (1 + x) + x_os + x_drift
 * dT)/V_ref) (R_top/R_top0)/(R_set/R_set0), x the relative deviation of the reference (Ohm's law;
 * methods.md 10). The gain and input current of the first amplifier are taken as covered by its
 * offset. Immutable.
 */
final class FirstStageModel {
  private final double referenceV;
  private final ResistorModel set;
  private final List<ResistorModel> top;
  private final int offset;
  private final int drift;

  FirstStageModel(DeviationIndex deviations, DesignPart.FirstStage stage) {
    referenceV = stage.referenceV();
    set = new ResistorModel(deviations, stage.resistor());
    top = stage.top().stream().map(r -> new ResistorModel(deviations, r)).toList();
    offset = deviations.indexOf(Kind.OFFSET, stage.amplifier());
    drift = deviations.indexOf(Kind.DRIFT, stage.amplifier());
  }

  private static double at(double[] x, int i) {
    return i < 0 ? 0 : x[i];
  }

  /** Factor on the nominal set voltage for a factor on the reference. */
  double factor(double reference, double dT, double[] x) {
    double held = reference + (at(x, offset) + at(x, drift) * dT) / referenceV;
    double dropped = top.stream().mapToDouble(r -> r.ohm(dT, x)).sum();
    double nominal = top.stream().mapToDouble(ResistorModel::nominalOhm).sum();
    return held * (dropped / nominal) * (set.nominalOhm() / set.ohm(dT, x));
  }
}
