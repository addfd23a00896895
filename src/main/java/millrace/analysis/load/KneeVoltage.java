// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import millrace.analysis.load.LoadCurve.Mean;
import millrace.analysis.load.LoadCurve.Standing;
import millrace.analysis.regression.LinearFitOfEstimates;
import millrace.analysis.regression.TwoSegmentFit;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Quantiles;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import org.apache.commons.math3.distribution.FDistribution;

/**
 * The knee as the break of a continuous two-segment fit of I over V, with the interval of its
 * profile likelihood (methods.md 3.4). Pure; thread-safe.
 */
public final class KneeVoltage {
  /** Note on a knee whose interval holds besides errors what no straight segments explain. */
  public static final String ROUNDED =
      "the knee is rounded: two straight segments do not explain the points; u is widened";

  private static final double SURE = 0.99;

  /** A departure below this share of the current is numerical error. */
  private static final double ARITHMETIC = 1e-9;

  private final Subject subject;
  private final List<Mean> loads;
  private final List<Estimate> currents = new ArrayList<>();
  private final double[] v;
  private final double[] i;
  private final double[] u;
  private final boolean known;

  private KneeVoltage(LoadCurve curve, Subject subject) {
    this.subject = subject;
    this.loads = curve.means().stream().filter(m -> m.standing() != Standing.UNSTEADY).toList();
    this.v = new double[loads.size()];
    this.i = new double[v.length];
    this.u = new double[v.length];
    double least = Double.POSITIVE_INFINITY;
    for (int k = 0; k < v.length; k++) {
      Estimate current = loads.get(k).currentA();
      v[k] = Math.abs(loads.get(k).voltageV().value());
      i[k] = Math.abs(current.value());
      u[k] = current.pointUncertainty();
      least = u[k] > 0 ? Math.min(least, u[k]) : least;
    }
    this.known = Double.isFinite(least);
    for (int k = 0; k < u.length; k++) {
      u[k] = known ? Math.max(least, u[k]) : 1;
    }
  }

  /**
   * The break with its interval (methods.md 3.4). In a trial the loads weigh what the readings
   * decided: on a rounded knee two breaks may fit alike, and weights decide between them.
   *
   * @param curve a sweep
   * @param subject what the result is of
   * @return knee_voltage, a value or the reason why not
   */
  static Result of(LoadCurve curve, Subject subject) {
    KneeVoltage knee = new KneeVoltage(curve, subject);
    double[] decided = curve.decidedKneeWeightsA(measured -> weightsA(measured, subject));
    return decided.length == knee.v.length ? knee.drawn(decided) : knee.result();
  }

  /** By which each steady load of a measured sweep weighs, A; none without a break to look for. */
  private static double[] weightsA(LoadCurve measured, Subject subject) {
    KneeVoltage knee = new KneeVoltage(measured, subject);
    try {
      Optional<TwoSegmentFit> first = knee.first();
      first.ifPresent(knee::effective);
      return first.isPresent() ? knee.u : new double[0];
    } catch (IllegalArgumentException dependent) {
      return new double[0];
    }
  }

  private Result result() {
    return where(this::fitted);
  }

  private Result drawn(double... weightsA) {
    return where(
        () -> {
          OptionalDouble breakV = TwoSegmentFit.breakOf(v, i, weightsA);
          return breakV.isPresent()
              ? ResultBuilder.drawn(subject, breakV.getAsDouble(), loads.size())
              : tooFew();
        });
  }

  private Result where(Supplier<Result> computed) {
    if (foldsBack()) {
      return missing("the source folds back: its current is no function of the voltage");
    }
    try {
      return computed.get();
    } catch (IllegalArgumentException dependent) {
      return missing("the voltages lie too close together to tell two segments apart");
    }
  }

  private Result tooFew() {
    return missing(
        "%s loads, a fit of two segments needs at least %s with 4 different voltages"
            .formatted(loads.size(), TwoSegmentFit.LEAST));
  }

  private Optional<TwoSegmentFit> first() {
    return TwoSegmentFit.of(v, i, u);
  }

  /** With nearly equal voltages, slope, break and level cannot be separated. */
  private Result fitted() {
    Optional<TwoSegmentFit> first = first();
    if (first.isEmpty()) {
      return tooFew();
    }
    effective(first.get());
    TwoSegmentFit fit = TwoSegmentFit.of(v, i, u).orElseThrow();
    return currents.get(0).isDrawn() || breakIsSignificant(fit)
        ? value(fit)
        : missing("no knee found: one straight line fits the sweep as well");
  }

  private Result missing(String reason) {
    return ResultBuilder.missing(subject, reason, loads.size());
  }

  private boolean foldsBack() {
    double highest = 0;
    for (int k = 0; k < v.length; k++) {
      double slack = 3 * loads.get(k).voltageV().standardUncertainty();
      if (v[k] < 0.98 * highest - slack) {
        return true;
      }
      highest = Math.max(highest, v[k]);
    }
    return false;
  }

  /** An error of V enters multiplied by the local slope. */
  private void effective(TwoSegmentFit fit) {
    for (int k = 0; k < v.length; k++) {
      Mean load = loads.get(k);
      double slope = fit.slope() + (v[k] > fit.breakX() ? fit.slopeChange() : 0);
      Estimate errors = load.currentA().errorsOnly().times(Math.signum(load.currentA().value()));
      Estimate volts = load.voltageV().errorsOnly().times(Math.signum(load.voltageV().value()));
      Estimate both = errors.minus(volts.times(slope));
      currents.add(both);
      u[k] = known ? Math.max(u[k], both.pointUncertainty()) : 1;
    }
  }

  /** Whether the break explains more than chance would, by the F or chi squared test. */
  private boolean breakIsSignificant(TwoSegmentFit fit) {
    double gain = fit.chiSquaredOfOneLine() - fit.chiSquared();
    double nu = fit.degreesOfFreedom();
    if (known) {
      double birge = Math.max(1, fit.chiSquared() / nu);
      return gain > birge * Quantiles.chiSquared(SURE, 2);
    }
    if (!matters(fit)) {
      return false;
    }
    double least = new FDistribution(null, 2, nu).inverseCumulativeProbability(SURE);
    return gain > 2 * least * fit.chiSquared() / nu;
  }

  /** Whether one straight line departs from the points by more than numerical error. */
  private boolean matters(TwoSegmentFit fit) {
    double rms = Math.sqrt(fit.chiSquaredOfOneLine() / i.length);
    return rms > ARITHMETIC * Arrays.stream(i).max().orElse(0);
  }

  private Result value(TwoSegmentFit fit) {
    if (currents.get(0).isDrawn()) {
      return ResultBuilder.drawn(subject, fit.breakX(), loads.size());
    }
    double[] residuals = new double[i.length];
    List<Estimate> errors = new ArrayList<>();
    List<String> keys = new ArrayList<>();
    for (int k = 0; k < i.length; k++) {
      keys.add("load " + k);
      residuals[k] = i[k] - fit.value(v[k]);
      errors.add(currents.get(k).plus(residuals[k]));
    }
    LinearFitOfEstimates linear = LinearFitOfEstimates.of(fit.linearised(v), errors, keys, "A");
    Estimate knee = linear.coefficient(3).plus(fit.breakX());
    ComputationOutcome.Uncertainty usual = Budget.of(knee).uncertainty(subject.coverage());
    double k = usual.coverageFactor();
    double shared = k * knee.standardUncertainty(s -> !s.pointWise());
    double[] ends = fit.profileInterval(allowance(fit, linear));
    double low = Math.hypot(fit.breakX() - ends[0], shared);
    double high = Math.hypot(ends[1] - fit.breakX(), shared);
    double expanded = Math.max(low, high);
    ComputationOutcome.Uncertainty own =
        new ComputationOutcome.Uncertainty(
            usual.standard(),
            expanded,
            fit.breakX() - low,
            fit.breakX() + high,
            subject.coverage(),
            usual.standard() > 0 ? expanded / usual.standard() : k,
            usual.degreesOfFreedom());
    return ResultBuilder.result(
            subject,
            new ComputationOutcome.Value(
                fit.breakX(), expanded > 0 ? Optional.of(own) : Optional.empty(), loads.size()),
            Budget.of(knee).components(),
            notes(ends, linear))
        .by(
            MeasurementModel.of(
                    "V_k = V at which the slope of two joined segments I_i(V_i) changes")
                .with("V_i", "V", Arrays.stream(v).boxed().toList())
                .with("I_i", "A", Arrays.stream(i).boxed().toList()));
  }

  /** How much chi squared may exceed its least inside the interval. */
  private double allowance(TwoSegmentFit fit, LinearFitOfEstimates linear) {
    double nu = fit.degreesOfFreedom();
    boolean measured = !known || linear.birge() > 1;
    OptionalDouble degrees = measured ? OptionalDouble.of(nu) : OptionalDouble.empty();
    double unit = measured ? fit.chiSquared() / nu : 1;
    return Math.pow(CoverageFactors.factor(subject.coverage(), degrees), 2) * unit;
  }

  private List<String> notes(double[] ends, LinearFitOfEstimates linear) {
    List<String> notes = new ArrayList<>();
    double highest = 0;
    for (double each : v) {
      highest = Math.max(highest, each);
    }
    if (ends[1] >= highest) {
      notes.add("the sweep ends inside the interval of the knee: add higher loads");
    }
    if (linear.birge() > 1) {
      notes.add(ROUNDED);
    }
    if (!known) {
      notes.add("no point-wise uncertainty is known: the scatter about the fit stands in");
    }
    return notes;
  }
}
