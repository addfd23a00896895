// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.uncertainty.Estimate;

/** Makes the problem from what was observed: logarithms of currents, and volts. */
final class CauseProblemBuilder {
  /** Model error from point to point, relative (common practice, no source). */
  private static final double POINT = 1e-6;

  /** The same of a base current, relative to it. */
  private static final double OF_BASE = 5e-4;

  /** The same for a compliance voltage, V. */
  private static final double POINT_V = 0.05;

  private final List<UnitModelOutput> observables = new ArrayList<>();
  private final List<Double> measured = new ArrayList<>();
  private final List<Estimate> errors = new ArrayList<>();
  private final List<Double> timesS = new ArrayList<>();
  private final List<Double> floors = new ArrayList<>();

  private CauseProblemBuilder() {}

  static CauseInferenceProblem problem(
      UnitDeviationModel model,
      List<CauseObservation.OfCurrent> currents,
      List<CauseObservation.OfCompliance> knees) {
    CauseProblemBuilder inputs = new CauseProblemBuilder();
    currents.forEach(c -> inputs.current(model, c));
    knees.forEach(c -> inputs.compliance(model, c));
    return new CauseInferenceProblem(
        model,
        inputs.observables,
        inputs.timesS.stream().mapToDouble(Double::doubleValue).toArray(),
        inputs.measured.stream().mapToDouble(Double::doubleValue).toArray(),
        inputs.covariance());
  }

  private void current(UnitDeviationModel model, CauseObservation.OfCurrent c) {
    RangeCircuitModel range = model.circuit().range(c.range()).orElseThrow();
    double value = c.current().value();
    observables.add(model.current(range, c.terminalV(), c.degC(), c.meter()));
    measured.add(Math.log(Math.abs(value)));
    errors.add(c.current().times(1 / value));
    timesS.add(c.timeS());
    double loss = range.design().passDevice().map(DesignPart.PassDevice::loss).orElse(0.0);
    floors.add(POINT + OF_BASE * loss);
  }

  private void compliance(UnitDeviationModel model, CauseObservation.OfCompliance c) {
    RangeCircuitModel range = model.circuit().range(c.range()).orElseThrow();
    Optional<UnitModelOutput> observable = model.compliance(range);
    if (observable.isPresent()) {
      observables.add(observable.get());
      measured.add(c.compliance().value());
      errors.add(c.compliance());
      timesS.add(Double.NaN);
      floors.add(POINT_V);
    }
  }

  private double[][] covariance() {
    double[][] covariance = new double[errors.size()][];
    for (int i = 0; i < covariance.length; i++) {
      covariance[i] = new double[i + 1];
      for (int j = 0; j <= i; j++) {
        covariance[i][j] = errors.get(i).covariance(errors.get(j));
      }
      covariance[i][i] += floors.get(i) * floors.get(i);
    }
    return covariance;
  }
}
