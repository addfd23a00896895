package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Results;
import millrace.analysis.uncertainty.Results.Subject;
import millrace.evidence.At;
import millrace.evidence.AtKey;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/** The results of one load sweep (measurement.md 3). */
public final class LoadResults {
  private static final double PPM = 1e6;

  private LoadResults() {}

  /**
   * Everything that a sweep gives.
   *
   * @param curve the sweep
   * @return output conductance and resistance, load regulation, compliance voltage, current
   */
  public static List<Result> of(LoadCurve curve) {
    List<Result> results = new ArrayList<>();
    results.add(conductance(curve));
    results.add(resistance(curve));
    results.add(regulation(curve));
    results.add(compliance(curve));
    results.add(current(curve));
    return results;
  }

  private static At at(LoadQuestion q) {
    OptionalDouble t = q.temperatureDegC();
    return t.isPresent() ? At.of(AtKey.TEMPERATURE_DEGC, t.getAsDouble()) : At.NONE;
  }

  private static Subject subject(LoadQuestion q, ResultQuantity quantity, At at, String method) {
    Optional<String> base =
        quantity.unit().startsWith("ppm") ? Optional.of("I_N") : Optional.empty();
    return new Subject(quantity, Optional.of(q.range()), at, base, method, q.coverage());
  }

  private static List<String> notes(LoadCurve curve) {
    List<String> notes = new ArrayList<>(curve.notes());
    if (!curve.timeTerm()) {
      notes.add("no time term: the sweep does not tell a drift from a slope");
    }
    return notes;
  }

  /** G = -dI/dV by the plateau line (measurement.md 3.1). */
  private static Result conductance(LoadCurve curve) {
    LoadQuestion q = curve.question();
    String method = "weighted least squares over the plateau, measurement.md 3.1";
    return Results.value(
        subject(q, ResultQuantity.OUTPUT_CONDUCTANCE, at(q), method),
        curve.conductanceS(),
        curve.plateau().size(),
        notes(curve));
  }

  /** -G/I_N in ppm/V (measurement.md 3.1). */
  private static Result regulation(LoadCurve curve) {
    LoadQuestion q = curve.question();
    String method = "-G/I_N, measurement.md 3.1";
    return Results.value(
        subject(q, ResultQuantity.LOAD_REGULATION, at(q), method),
        curve.conductanceS().times(-PPM / Math.abs(q.nominalA())),
        curve.plateau().size(),
        notes(curve));
  }

  /** 1/G where u(G) is below G/4, else a bound (measurement.md 3.1). */
  private static Result resistance(LoadCurve curve) {
    LoadQuestion q = curve.question();
    Subject subject =
        subject(q, ResultQuantity.OUTPUT_RESISTANCE, at(q), "1/G, measurement.md 3.1");
    Estimate g = curve.conductanceS();
    int n = curve.plateau().size();
    double u = g.standardUncertainty();
    Outcome.Uncertainty interval = Budget.of(g).uncertainty(q.coverage());
    if (g.value() < -5 * u) {
      return Results.missing(subject, "current rises with voltage", n);
    }
    boolean fixtureHeavy =
        Math.abs(q.fixtureS().value()) > Math.abs(g.plus(q.fixtureS()).value()) / 3;
    if (u < g.value() / 4 && !fixtureHeavy && interval.lower() > 0) {
      return reciprocal(subject, g, interval, n, notes(curve));
    }
    double most = Math.max(Math.abs(interval.lower()), interval.upper());
    if (!(most > 0)) {
      return Results.missing(subject, "no uncertainty is known, so there is no bound", n);
    }
    List<String> notes = notes(curve);
    notes.add(
        fixtureHeavy
            ? "the fixture takes more than a third of the conductance"
            : "the conductance is not told from zero");
    return Results.bound(subject, new Outcome.Bound(Outcome.Side.ABOVE, 1 / most, n), notes);
  }

  private static Result reciprocal(
      Subject subject, Estimate g, Outcome.Uncertainty interval, int n, List<String> notes) {
    double r = 1 / g.value();
    Estimate estimate = Estimate.function(r, new double[] {-r * r}, List.of(g));
    double lower = 1 / interval.upper();
    double upper = 1 / interval.lower();
    double expanded = Math.max(upper - r, r - lower);
    double u = estimate.standardUncertainty();
    Outcome.Uncertainty own =
        new Outcome.Uncertainty(
            u,
            expanded,
            lower,
            upper,
            interval.coverage(),
            u == 0 ? interval.coverageFactor() : expanded / u,
            interval.degreesOfFreedom());
    return Results.result(
        subject,
        new Outcome.Value(r, Optional.of(own), n),
        Budget.of(estimate).components(),
        notes);
  }

  /** V where the current has fallen by the criterion (measurement.md 3.3). */
  private static Result compliance(LoadCurve curve) {
    LoadQuestion q = curve.question();
    At at = at(q).with(AtKey.CRITERION, q.criterion());
    Subject subject =
        subject(
            q,
            ResultQuantity.COMPLIANCE_VOLTAGE,
            at,
            "enclosure by chord and outer line, measurement.md 3.3");
    int n = curve.points().size();
    if (curve.crossing().isEmpty()) {
      return Results.bound(
          subject,
          new Outcome.Bound(Outcome.Side.ABOVE, curve.highestV(), n),
          List.of("not reached: the highest voltage tested"));
    }
    Crossing c = curve.crossing().get();
    double expanded = c.expandedV();
    double k = 2;
    Outcome.Uncertainty u =
        new Outcome.Uncertainty(
            expanded / k,
            expanded,
            c.middleV() - expanded,
            c.middleV() + expanded,
            q.coverage(),
            k,
            OptionalDouble.empty());
    List<String> notes = new ArrayList<>(curve.notes());
    if (c.points() == 1) {
      notes.add("only one point lies beyond the knee: a denser sweep there narrows the interval");
    }
    return Results.result(
        subject, new Outcome.Value(c.middleV(), Optional.of(u), n), ComplianceBudget.of(c), notes);
  }

  /** The line at the load at which the current is promised (measurement.md 3.7). */
  private static Result current(LoadCurve curve) {
    LoadQuestion q = curve.question();
    At at = at(q).with(AtKey.LOAD_OHM, q.referenceOhm());
    return Results.value(
        subject(q, ResultQuantity.CURRENT, at, "plateau line at the load, measurement.md 3.7"),
        curve.currentAtA(curve.referenceV()),
        curve.plateau().size(),
        notes(curve));
  }
}
