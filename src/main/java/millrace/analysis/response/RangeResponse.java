// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.MeasurementModel;

/**
 * The response of one range: its current at any condition (methods.md 11.3). Differences of two
 * predictions, of this or another range, include their covariance, since estimates keep each error
 * by name. Immutable and thread-safe.
 */
public final class RangeResponse {
  private static final double HALF = 0.5;
  private static final double PPM = 1e6;
  private static final double HOUR_S = 3600;
  private static final int MOST_ROUNDS = 50;

  private final RangeLeastSquaresProblem problem;
  private final ResponseSurface surface;
  private final ResponseSettings settings;
  private final List<String> notes = new ArrayList<>();
  private final ResponseValidityDomain own;
  private final ResponseValidityDomain domain;
  private final List<BorrowedCoefficients> foreign;
  private final OptionalDouble middleS;

  RangeResponse(
      RangeLeastSquaresProblem problem,
      ResponseSurface surface,
      ResponseSettings settings,
      List<String> notes) {
    this.problem = problem;
    this.surface = surface;
    this.settings = settings;
    this.notes.addAll(notes);
    this.notes.addAll(problem.errors().notes());
    surface.misfitNote().ifPresent(this.notes::add);
    this.own = ResponseDomainFinder.of(problem.measured(), settings.referenceDegC());
    this.foreign = problem.priors().foreign();
    this.middleS = problem.measured().middleS();
    ResponseValidityDomain all = own;
    for (ResponseSettings.Taken each : settings.of(range())) {
      if (foreign.contains(each.from())) {
        all = all.extendedBy(each.coefficients().domain());
      }
    }
    this.domain = all;
  }

  /**
   * The range.
   *
   * @return its name
   */
  public String range() {
    return problem.measured().data().range();
  }

  /**
   * Its nominal current.
   *
   * @return I_N, A
   */
  public double nominalA() {
    return problem.measured().data().nominalA();
  }

  /**
   * T_ref.
   *
   * @return degC
   */
  public double referenceDegC() {
    return settings.referenceDegC();
  }

  /** The number of points used. @return 1 or more */
  public int n() {
    return problem.measured().points().size();
  }

  /** The points used. @return in the order of the data */
  public List<ResponsePoint> points() {
    return problem.measured().points();
  }

  /**
   * Tells whether the temperature of the unit was recorded.
   *
   * @return false where no point has one
   */
  public boolean temperatureKnown() {
    return problem.measured().data().temperatureKnown();
  }

  /**
   * Tells whether anything is known of the points' errors.
   *
   * @return false where no reading states any and none scatters
   */
  public boolean uncertaintyKnown() {
    return problem.errors().y().stream().anyMatch(Estimate::hasUncertainty);
  }

  /**
   * The prediction at a voltage or load, at the temperature of the points, for a range without a
   * recorded temperature.
   *
   * @param condition the condition; its temperature is ignored
   * @return the value, or what would have to be measured
   */
  public ResponsePrediction whateverTemperature(PredictionCondition condition) {
    double degC = own.visitsDegC().get(0);
    double v = volts(condition);
    List<String> wanting = domain.wanting(degC, v);
    return wanting.isEmpty()
        ? value(condition, v, false)
        : new ResponsePrediction.Missing(
            domain.whyNot(degC, v).orElse("") + ": " + String.join("; ", wanting), wanting);
  }

  /**
   * The prediction at a condition inside the domain (methods.md 11.3, 11.4).
   *
   * @param condition the condition
   * @return the value, or the measurements that are missing
   */
  public ResponsePrediction at(PredictionCondition condition) {
    List<String> wanting = wanting(condition);
    double v = volts(condition);
    return wanting.isEmpty()
        ? value(condition, v, false)
        : new ResponsePrediction.Missing(
            String.join("; ", reasons(condition, v)) + ": " + String.join("; ", wanting), wanting);
  }

  private List<String> reasons(PredictionCondition condition, double v) {
    List<String> reasons = new ArrayList<>();
    if (problem.measured().data().temperatureKnown()) {
      domain.whyNot(condition.temperatureDegC(), v).ifPresent(reasons::add);
    } else {
      reasons.add("the temperature of the unit was not recorded");
    }
    supplyWanting(condition)
        .ifPresent(r -> reasons.add("no reading tells what the supply voltage does there"));
    return reasons;
  }

  /**
   * The measurements missing for a condition (methods.md 11.4).
   *
   * @param condition the condition
   * @return such as {@code measure at 50 degC}; empty inside the domain
   */
  public List<String> wanting(PredictionCondition condition) {
    List<String> wanting = new ArrayList<>();
    double degC = condition.temperatureDegC();
    if (problem.measured().data().temperatureKnown()) {
      wanting.addAll(domain.wanting(degC, volts(condition)));
    } else {
      wanting.add("measure with a thermometer at the unit");
    }
    supplyWanting(condition).ifPresent(wanting::add);
    return wanting;
  }

  /** Tells whether nothing is missing for a condition. */
  boolean isKnown(PredictionCondition condition) {
    return problem.measured().data().temperatureKnown()
        && domain.holds(condition.temperatureDegC(), volts(condition))
        && (condition.supplyV().isEmpty() || domain.knowsSupply(condition.supplyV().getAsDouble()));
  }

  /**
   * The prediction at a condition, also outside the domain: its uncertainty includes the priors of
   * the model's terms, and it is marked as extrapolated.
   *
   * @param condition the condition
   * @return the value; missing only if the model has no term for it
   */
  public ResponsePrediction extrapolated(PredictionCondition condition) {
    ResponsePrediction inside = at(condition);
    double v = volts(condition);
    double degC = condition.temperatureDegC();
    if (inside.value().isPresent()) {
      return inside;
    }
    List<String> wanting = new ArrayList<>();
    supplyWanting(condition).filter(r -> !swept()).ifPresent(wanting::add);
    if (!problem.measured().data().temperatureKnown()) {
      wanting.add("measure with a thermometer at the unit");
    }
    boolean flat = problem.measured().oneVoltage() && !foreignSlope();
    if (domain.pastTheKnee(degC, v) || flat) {
      domain.wanting(own.nearestVisit(degC).orElse(degC), v).forEach(wanting::add);
    }
    return wanting.isEmpty()
        ? value(condition, v, true)
        : new ResponsePrediction.Missing(
            "no term of the model tells it: " + String.join("; ", wanting), wanting);
  }

  private boolean foreignSlope() {
    return problem.priors().terms().fixed().contains(ResponseCoefficient.G_0);
  }

  private boolean swept() {
    return problem.priors().terms().fixed().contains(ResponseCoefficient.K_S);
  }

  private Optional<String> supplyWanting(PredictionCondition condition) {
    return condition.supplyV().isPresent()
        ? domain.wantingSupply(condition.supplyV().getAsDouble())
        : Optional.empty();
  }

  /** The terminal voltage of a condition; at a load V = I R, iterated (methods.md 11.3). */
  private double volts(PredictionCondition condition) {
    if (condition.voltageV().isPresent()) {
      return condition.voltageV().getAsDouble();
    }
    double perLoad = Math.abs(nominalA()) * condition.loadOhm().orElse(0);
    double v = perLoad;
    for (int i = 0; i < MOST_ROUNDS; i++) {
      double next = perLoad * (1 + y(condition, v));
      if (!(Math.abs(next) < 1e6 * Math.max(1, perLoad)) || Math.abs(next - v) <= 1e-12 * v) {
        return Double.isFinite(next) ? next : perLoad;
      }
      v = next;
    }
    return v;
  }

  private double y(PredictionCondition condition, double volts) {
    return surface.value(surface.features(place(condition, volts)));
  }

  private ResponseTerms.Place place(PredictionCondition c, double volts) {
    double h =
        c.timeS().isPresent() && middleS.isPresent()
            ? (c.timeS().getAsDouble() - middleS.getAsDouble()) / HOUR_S
            : 0;
    double s =
        c.supplyV().isPresent() && swept()
            ? c.supplyV().getAsDouble() - problem.measured().supplyV().orElse(0)
            : 0;
    return new ResponseTerms.Place(c.temperatureDegC() - settings.referenceDegC(), volts, h, s);
  }

  private ResponsePrediction.Value value(
      PredictionCondition condition, double volts, boolean extrapolated) {
    double[] features = surface.features(place(condition, volts));
    Estimate y = surface.estimate(features);
    double degC = condition.temperatureDegC();
    ResponsePrediction.Basis basis = basis(degC, features);
    List<BorrowedCoefficients> leansOn = ownMeasured(degC, volts) ? List.of() : foreign;
    return new ResponsePrediction.Value(
        y.plus(1).times(nominalA()),
        y.times(PPM),
        volts,
        basis,
        words(basis, degC),
        leansOn,
        extrapolated);
  }

  /**
   * The equation of the current at a condition with its coefficients (methods.md 11.1).
   *
   * @param condition where
   * @return I = I_N (1 + y), with the estimates
   */
  public MeasurementModel model(PredictionCondition condition) {
    return new ModelEquation("I = I_N (1 + y)", coefficients(), nominalA(), referenceDegC())
        .at(place(condition, volts(condition)));
  }

  /**
   * The equation of the error of the current at a condition with its coefficients.
   *
   * @param condition where
   * @return y in ppm, with the estimates
   */
  public MeasurementModel errorModel(PredictionCondition condition) {
    return new ModelEquation("I/I_N - 1 = y", coefficients(), nominalA(), referenceDegC())
        .at(place(condition, volts(condition)));
  }

  private boolean ownMeasured(double degC, double volts) {
    return near(degC) && own.wanting(degC, volts).isEmpty();
  }

  private boolean near(double degC) {
    return own.nearestVisit(degC)
        .filter(t -> Math.abs(t - degC) <= ResponseFitPoints.SAME_K)
        .isPresent();
  }

  private ResponsePrediction.Basis basis(double degC, double[] features) {
    if (surface.assumedShare(features) > HALF) {
      return ResponsePrediction.Basis.BY_ASSUMPTION;
    }
    return near(degC) ? ResponsePrediction.Basis.MEASURED : ResponsePrediction.Basis.PREDICTED;
  }

  private String words(ResponsePrediction.Basis basis, double degC) {
    String there = ResponseValidityDomain.number(degC) + " degC";
    return switch (basis) {
      case MEASURED -> "measured: a visit lies within 0.5 K of " + there;
      case PREDICTED -> "predicted from visits to other temperatures";
      case BY_ASSUMPTION ->
          "by assumption: most of U is what was assumed, not measured; "
              + (near(degC) ? "measure at more loads and temperatures" : "measure at " + there);
    };
  }

  /**
   * Value and standard uncertainty alone, in the middle of the run at the usual supply: quick, for
   * searches. Says nothing of the domain.
   *
   * @param temperatureDegC degC
   * @param voltageV in the direction of the current, V
   * @return error and its u, ppm of I_N
   */
  public double[] errorAndUPpm(double temperatureDegC, double voltageV) {
    return errorAndUPpm(PredictionCondition.atVoltage(temperatureDegC, voltageV));
  }

  /** The same at any condition. */
  double[] errorAndUPpm(PredictionCondition condition) {
    double[] f = surface.features(place(condition, volts(condition)));
    return new double[] {surface.value(f) * PPM, Math.sqrt(surface.variance(f)) * PPM};
  }

  /**
   * Where predictions hold.
   *
   * @return the domain
   */
  public ResponseValidityDomain domain() {
    return domain;
  }

  /**
   * The coefficients that another run may take from this one (methods.md 11.6).
   *
   * @return values and covariance
   */
  public ResponseCoefficientSet coefficients() {
    return surface.coefficients(domain);
  }

  /**
   * Notes for the reader.
   *
   * @return whole sentences
   */
  public List<String> notes() {
    return List.copyOf(notes);
  }
}
