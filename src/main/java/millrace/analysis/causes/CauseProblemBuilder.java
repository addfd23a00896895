// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.part.PartQuantity;
import millrace.evidence.part.PartValue;

/** Makes the problem from what was observed: logarithms of currents, and volts. */
final class CauseProblemBuilder {
  /** Model error from point to point, relative (common practice, no source). */
  private static final double POINT = 1e-6;

  /** The same of a base current, relative to it. */
  private static final double OF_BASE = 5e-4;

  /** The same for a compliance voltage, V. */
  private static final double POINT_V = 0.05;

  private static final String BY_HAND = "by hand";

  /**
   * What of the uncertainty of a value by hand is its own, as a share; the rest is the instrument's
   * (common practice, no source).
   */
  private static final double OF_ONE_VALUE = 0.25;

  private final List<UnitModelOutput> observables = new ArrayList<>();
  private final List<Double> measured = new ArrayList<>();
  private final List<Estimate> errors = new ArrayList<>();
  private final List<Double> timesS = new ArrayList<>();
  private final List<Double> floors = new ArrayList<>();

  private CauseProblemBuilder() {}

  static CauseInferenceProblem problem(
      UnitDeviationModel model,
      List<CauseObservation.OfCurrent> currents,
      List<CauseObservation.OfCompliance> knees,
      List<CauseObservation.OfPart> parts) {
    CauseProblemBuilder inputs = new CauseProblemBuilder();
    currents.forEach(c -> inputs.current(model, c));
    knees.forEach(c -> inputs.compliance(model, c));
    parts.forEach(p -> inputs.part(model, p));
    return inputs.problem(model);
  }

  /** A problem of the same observations and more behind them, in their order. */
  static CauseInferenceProblem problem(
      UnitDeviationModel model, List<CauseObservation> before, List<CauseObservation> further) {
    CauseProblemBuilder inputs = new CauseProblemBuilder();
    before.forEach(o -> inputs.any(model, o));
    further.forEach(o -> inputs.any(model, o));
    return inputs.problem(model);
  }

  private CauseInferenceProblem problem(UnitDeviationModel model) {
    return new CauseInferenceProblem(
        model,
        observables,
        timesS.stream().mapToDouble(Double::doubleValue).toArray(),
        measured.stream().mapToDouble(Double::doubleValue).toArray(),
        covariance());
  }

  private void any(UnitDeviationModel model, CauseObservation observation) {
    if (observation instanceof CauseObservation.OfCurrent current) {
      current(model, current);
    } else if (observation instanceof CauseObservation.OfCompliance knee) {
      compliance(model, knee);
    } else if (observation instanceof CauseObservation.OfPart part) {
      part(model, part);
    }
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

  private void part(UnitDeviationModel model, CauseObservation.OfPart p) {
    PartValue found = p.value();
    PartObservable observable = observable(model, found).orElseThrow();
    double slope = observable.slope().applyAsDouble(found.value());
    observables.add(observable.output());
    measured.add(observable.measured().applyAsDouble(found.value()));
    errors.add(errors(found).times(slope));
    timesS.add(p.timeS());
    floors.add(found.quantity() == PartQuantity.CURRENT ? POINT : 0);
  }

  /** How the model predicts a value; empty where the circuit has no such part. */
  static Optional<PartObservable> observable(UnitDeviationModel model, PartValue value) {
    double degC = value.degC().orElse(model.circuit().referenceDegC());
    return new PartObservables(model)
        .of(value.quantity(), value.of(), degC, value.terminalV().orElse(0));
  }

  /** Most of it is the instrument's, and the same in every value of one part. */
  private static Estimate errors(PartValue found) {
    double own = OF_ONE_VALUE * found.standardUncertainty();
    double shared = Math.sqrt(1 - OF_ONE_VALUE * OF_ONE_VALUE) * found.standardUncertainty();
    String unit = found.quantity().dimension().baseUnit();
    return Estimate.exact(found.value())
        .with(
            ErrorSource.normal(
                BY_HAND, ErrorSource.INSTRUMENT_AND_RANGE, found.name(), shared, unit),
            1)
        .with(ErrorSource.normal(BY_HAND, ErrorSource.POINT, found.text(), own, unit), 1);
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
