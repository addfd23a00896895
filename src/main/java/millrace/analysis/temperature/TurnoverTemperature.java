// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;

/**
 * Where the quadratic turns, T_ref - a/(2 b), with the interval of a ratio: all x with |a + 2 b x|
 * within k times its own u (Fieller, J. R. Statist. Soc. B 16 (1954) 175; methods.md 5.4). It is
 * finite where b differs significantly from zero, and not symmetric.
 */
final class TurnoverTemperature {
  private static final String OUTSIDE = "the turnover is not inside the span of temperatures";

  private final TemperatureStudy study;
  private final TemperatureLine line;

  private TurnoverTemperature(TemperatureStudy study, TemperatureLine line) {
    this.study = study;
    this.line = line;
  }

  static TurnoverTemperature of(TemperatureStudy study, TemperatureLine line) {
    return new TurnoverTemperature(study, line);
  }

  Result result(Subject subject, List<String> notes) {
    int n = study.points().size();
    Estimate a = line.ppmPerK().forUse(line.use());
    Estimate b = line.quadraticPpmPerK2().forUse(line.use());
    if (b.isDrawn() && b.value() != 0) {
      Estimate at = turnover(a, b);
      return inside(at)
          ? ResultBuilder.drawn(subject, at.value(), n)
          : ResultBuilder.missing(subject, OUTSIDE, n);
    }
    Budget budget = Budget.of(b);
    double k = CoverageFactors.factor(subject.coverage(), budget.degreesOfFreedom());
    if (b.value() == 0 || Math.abs(b.value()) <= k * budget.standardUncertainty()) {
      return ResultBuilder.missing(subject, "no significant curvature", n);
    }
    Estimate at = turnover(a, b);
    if (!inside(at)) {
      return ResultBuilder.missing(subject, OUTSIDE, n);
    }
    Result found =
        at.hasUncertainty()
            ? withInterval(subject, at, k, notes)
            : ResultBuilder.value(subject, at, n, notes);
    return found.by(
        MeasurementModel.of("T_t = T_ref - a/(2 b)")
            .with("T_ref", "degC", study.referenceDegC())
            .with("a", "ppm/K", a.value())
            .with("b", "ppm/K2", b.value()));
  }

  private Estimate turnover(Estimate a, Estimate b) {
    return Estimate.exact(study.referenceDegC()).minus(a.over(b).times(0.5));
  }

  private boolean inside(Estimate at) {
    return at.value() >= study.coldest().temperatureDegC().value()
        && at.value() <= study.hottest().temperatureDegC().value();
  }

  private Result withInterval(Subject subject, Estimate at, double k, List<String> notes) {
    ComputationOutcome.Uncertainty plain = Budget.of(at).uncertainty(subject.coverage());
    double[] ends = ends(k);
    double low = Math.min(ends[0], at.value());
    double high = Math.max(ends[1], at.value());
    double expanded = Math.max(high - at.value(), at.value() - low);
    ComputationOutcome.Uncertainty own =
        new ComputationOutcome.Uncertainty(
            plain.standard(),
            expanded,
            low,
            high,
            plain.coverage(),
            expanded / plain.standard(),
            plain.degreesOfFreedom());
    return ResultBuilder.result(
        subject,
        new ComputationOutcome.Value(at.value(), Optional.of(own), study.points().size()),
        Budget.of(at).components(),
        notes);
  }

  /** The roots of (a + 2 b x)^2 = k^2 (Vaa + 4 x Vab + 4 x^2 Vbb), as temperatures. */
  private double[] ends(double k) {
    Estimate a = line.ppmPerK().forUse(line.use());
    Estimate b = line.quadraticPpmPerK2().forUse(line.use());
    double k2 = k * k;
    double square = 4 * (b.value() * b.value() - k2 * Budget.covariance(b, b));
    double half = 2 * (a.value() * b.value() - k2 * Budget.covariance(a, b));
    double constant = a.value() * a.value() - k2 * Budget.covariance(a, a);
    double root = Math.sqrt(Math.max(0, half * half - square * constant));
    double reference = study.referenceDegC();
    return new double[] {reference + (-half - root) / square, reference + (-half + root) / square};
  }
}
