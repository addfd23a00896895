// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.design.RangeCircuitModel;

/** Predictions of each cause alone, for the plot (methods.md 9). */
final class SingleCausePredictions {
  private SingleCausePredictions() {}

  static List<ErrorCauseDiagnosis.Explained> all(
      UnitDeviationModel model,
      List<CauseObservation.OfCurrent> currents,
      Map<CauseCandidate, Double> states) {
    return currents.stream().map(c -> one(model, c, states)).toList();
  }

  private static ErrorCauseDiagnosis.Explained one(
      UnitDeviationModel model, CauseObservation.OfCurrent c, Map<CauseCandidate, Double> states) {
    RangeCircuitModel range = model.circuit().range(c.range()).orElseThrow();
    double nominal = Math.abs(range.design().nominalA());
    UnitModelOutput observable = model.current(range, c.terminalV(), c.degC(), c.meter());
    Map<String, Double> byCause = new LinkedHashMap<>();
    states.forEach(
        (candidate, value) -> {
          double[] state = new double[model.size()];
          state[candidate.index()] = candidate.at(c.timeS()) ? value : 0;
          byCause.put(candidate.name(), ppm(observable, state, nominal));
        });
    return new ErrorCauseDiagnosis.Explained(
        c.range(),
        c.terminalV(),
        c.degC(),
        (c.current().value() / range.design().nominalA() - 1) * 1e6,
        c.current().standardUncertainty() / nominal * 1e6,
        ppm(observable, new double[model.size()], nominal),
        normal(model, observable, nominal),
        byCause);
  }

  private static double ppm(UnitModelOutput observable, double[] state, double nominal) {
    return (Math.exp(observable.at(state)) / nominal - 1) * 1e6;
  }

  private static double normal(
      UnitDeviationModel model, UnitModelOutput observable, double nominal) {
    double sum = 0;
    double[] state = new double[model.size()];
    double middle = ppm(observable, state, nominal);
    for (int k = 0; k < state.length; k++) {
      state[k] = model.spread(k);
      double effect = ppm(observable, state, nominal) - middle;
      sum += effect * effect;
      state[k] = 0;
    }
    return Math.sqrt(sum);
  }
}
