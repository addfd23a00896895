// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/** The results of one load sweep (methods.md 3). Pure; thread-safe. */
public final class LoadResults {
  /** Budget name of the uncertainty from the unknown shape of a knee between two loads. */
  public static final String ENCLOSURE = "enclosure of the crossing";

  private static final double PPM = 1e6;
  private static final double RISES = 5;
  private static final double SIGNIFICANT = 4;

  /**
   * Number of u in a bound of R_out: it is reported only where G may be small by chance, and with
   * the usual two it would be wrong more often than stated.
   */
  private static final double BOUND_FACTOR = 3;

  private static final double FIXTURE_SHARE = 3;

  private static final String RISES_WITH_VOLTAGE = "current rises with voltage";

  private final LoadCurve curve;
  private final LoadSweepRequest question;
  private final ResultConditions at;
  private final int n;

  private LoadResults(LoadCurve curve) {
    this.curve = curve;
    this.question = curve.question();
    this.at = at(question);
    this.n = curve.plateau().size();
  }

  /**
   * Everything that a sweep gives (methods.md 3.1, 3.3, 3.4, 3.7).
   *
   * @param points the points in any order; may be empty
   * @param question what is asked
   * @return output conductance and resistance, load regulation, compliance voltage, knee voltage,
   *     current; each a value, a bound or the reason why not
   */
  public static List<Result> of(List<LoadPoint> points, LoadSweepRequest question) {
    Optional<LoadCurve> curve = LoadCurve.of(points, question);
    if (curve.isPresent()) {
      return of(curve.get());
    }
    String reason = LoadCurve.whyNot(points).orElse("no line");
    List<Result> none = new ArrayList<>();
    for (ResultQuantity quantity :
        List.of(
            ResultQuantity.OUTPUT_CONDUCTANCE,
            ResultQuantity.OUTPUT_RESISTANCE,
            ResultQuantity.LOAD_REGULATION)) {
      none.add(
          ResultBuilder.missing(
              subject(question, quantity, at(question), LINE), reason, points.size()));
    }
    none.add(ResultBuilder.missing(complianceSubject(question), reason, points.size()));
    none.add(ResultBuilder.missing(kneeSubject(question), reason, points.size()));
    return none;
  }

  private static final String LINE =
      "weighted least squares over the plateau, Methods of Millrace 3.1";

  /**
   * Everything that a studied sweep gives (methods.md 3.1, 3.3, 3.4, 3.7).
   *
   * @param curve the sweep
   * @return output conductance and resistance, load regulation, compliance voltage, knee voltage
   */
  public static List<Result> of(LoadCurve curve) {
    LoadResults results = new LoadResults(curve);
    return List.of(
        results.conductance(),
        results.resistance(),
        results.regulation(),
        results.compliance(),
        KneeVoltage.of(curve, kneeSubject(curve.question())));
  }

  private static ResultConditions at(LoadSweepRequest q) {
    OptionalDouble t = q.temperatureDegC();
    return t.isPresent()
        ? ResultConditions.of(ResultConditionKey.TEMPERATURE_DEGC, t.getAsDouble())
        : ResultConditions.NONE;
  }

  private static Subject subject(
      LoadSweepRequest q, ResultQuantity quantity, ResultConditions at, String method) {
    Optional<String> base =
        quantity.unit().startsWith("ppm") ? Optional.of("I_N") : Optional.empty();
    return new Subject(quantity, Optional.of(q.range()), at, base, method, q.coverage());
  }

  private static Subject complianceSubject(LoadSweepRequest q) {
    ResultConditions at = at(q).with(ResultConditionKey.CRITERION, q.criterion());
    String from = q.fromLine() ? "the plateau line" : "the current into a short";
    return subject(
        q,
        ResultQuantity.COMPLIANCE_VOLTAGE,
        at,
        "fall from " + from + ", enclosed by chord and outer line, Methods of Millrace 3.3");
  }

  private static Subject kneeSubject(LoadSweepRequest q) {
    return subject(
        q,
        ResultQuantity.KNEE_VOLTAGE,
        at(q),
        "break of a continuous two-segment fit, profile likelihood, Methods of Millrace 3.4");
  }

  private List<String> slopeNotes() {
    List<String> notes = new ArrayList<>(curve.notes());
    if (fixtureHeavy()) {
      notes.add("the fixture takes more than a third of the conductance");
    }
    return notes;
  }

  private boolean fixtureHeavy() {
    double fixture = Math.abs(question.fixtureS().value());
    return fixture > 0 && fixture > Math.abs(curve.conductanceS().value()) / FIXTURE_SHARE;
  }

  /** G = -dI/dV by the plateau line (methods.md 3.1). */
  private Result conductance() {
    Subject subject = subject(question, ResultQuantity.OUTPUT_CONDUCTANCE, at, LINE);
    return curve
        .noPlateau()
        .map(why -> ResultBuilder.missing(subject, why, n))
        .orElseGet(
            () ->
                curve.isDrawn()
                    ? ResultBuilder.drawn(subject, curve.conductanceS().value(), n)
                    : ResultBuilder.value(subject, curve.conductanceS(), n, slopeNotes())
                        .by(plateau()));
  }

  /** -G/I_N in ppm/V (methods.md 3.1). */
  private Result regulation() {
    Subject subject =
        subject(question, ResultQuantity.LOAD_REGULATION, at, "-G/I_N, Methods of Millrace 3.1");
    if (curve.noPlateau().isPresent()) {
      return ResultBuilder.missing(subject, curve.noPlateau().get(), n);
    } else if (question.nominalA() == 0) {
      return ResultBuilder.missing(
          subject, "the nominal current is 0, ppm are not counted of it", n);
    }
    Estimate perVolt = curve.conductanceS().times(-PPM / Math.abs(question.nominalA()));
    if (curve.isDrawn()) {
      return ResultBuilder.drawn(subject, perVolt.value(), n);
    }
    return ResultBuilder.value(subject, perVolt, n, slopeNotes())
        .by(
            MeasurementModel.of("S = -G/|I_N|, G the output conductance")
                .with("G", "S", curve.conductanceS().value())
                .with("I_N", "A", question.nominalA()));
  }

  /** 1/G where u(G) is below G/4, else a bound (methods.md 3.1). */
  private Result resistance() {
    Subject subject =
        subject(
            question,
            ResultQuantity.OUTPUT_RESISTANCE,
            at,
            "1/G, interval of the reciprocal, Methods of Millrace 3.1");
    Estimate g = curve.conductanceS();
    if (curve.isDrawn()) {
      return g.value() > 0
          ? ResultBuilder.drawn(subject, 1 / g.value(), n)
          : ResultBuilder.missing(subject, RISES_WITH_VOLTAGE, n);
    }
    double u = g.standardUncertainty();
    ComputationOutcome.Uncertainty interval = Budget.of(g).uncertainty(question.coverage());
    double reach = Math.max(BOUND_FACTOR * u, (interval.upper() - interval.lower()) / 2);
    double most = Math.abs(g.value()) + reach;
    if (curve.noPlateau().isPresent()) {
      return ResultBuilder.missing(subject, curve.noPlateau().get(), n);
    } else if (curve.negligible(most)) {
      return ResultBuilder.missing(
          subject, "the current does not change at all, so there is no bound", n);
    } else if (g.value() < -RISES * u) {
      return ResultBuilder.missing(subject, RISES_WITH_VOLTAGE, n);
    }
    boolean significant = u < g.value() / SIGNIFICANT && interval.lower() > 0;
    if (significant && !fixtureHeavy()) {
      return reciprocal(subject, g, interval);
    }
    List<String> notes = slopeNotes();
    if (!significant) {
      notes.add("the conductance differs from zero by less than four times its u");
    }
    return ResultBuilder.bound(
        subject, new ComputationOutcome.Bound(ComputationOutcome.Side.ABOVE, 1 / most, n), notes);
  }

  private Result reciprocal(Subject subject, Estimate g, ComputationOutcome.Uncertainty interval) {
    double r = 1 / g.value();
    Estimate estimate = Estimate.function(r, new double[] {-r * r}, List.of(g));
    if (!estimate.hasUncertainty()) {
      return ResultBuilder.value(subject, estimate, n, slopeNotes());
    }
    double lower = 1 / interval.upper();
    double upper = 1 / interval.lower();
    double expanded = Math.max(upper - r, r - lower);
    double u = estimate.standardUncertainty();
    ComputationOutcome.Uncertainty own =
        new ComputationOutcome.Uncertainty(
            u,
            expanded,
            lower,
            upper,
            interval.coverage(),
            expanded / u,
            interval.degreesOfFreedom());
    return ResultBuilder.result(
            subject,
            new ComputationOutcome.Value(r, Optional.of(own), n),
            Budget.of(estimate).components(),
            slopeNotes())
        .by(MeasurementModel.of("R_out = 1/G, G the output conductance").with("G", "S", g.value()));
  }

  /** The line over the plateau, a time term beside where the sweep allows one. */
  private MeasurementModel plateau() {
    double fixture = question.fixtureS().value();
    List<LoadPoint> points = curve.plateau();
    MeasurementModel model =
        MeasurementModel.of(
                "G = -dI/dV%s of the line I_i = I_0 + (dI/dV) V_i%s, weighted least squares"
                    .formatted(
                        fixture == 0 ? "" : " - G_fixture",
                        curve.timed() ? " + D (t_i - mean t)" : ""))
            .with("V_i", "V", points.stream().map(p -> p.voltageV().value()).toList())
            .with("I_i", "A", points.stream().map(p -> p.currentA().value()).toList());
    return fixture == 0 ? model : model.with("G_fixture", "S", fixture);
  }

  /** V where the current has fallen by the criterion (methods.md 3.3). */
  private Result compliance() {
    Subject subject = complianceSubject(question);
    int all = curve.points().size();
    if (curve.noPlateau().isPresent()) {
      return ResultBuilder.missing(subject, curve.noPlateau().get(), all);
    }
    List<String> notes = new ArrayList<>(curve.notes());
    if (curve.crossing().isEmpty()) {
      notes.add("not reached: the highest voltage tested at which the current surely holds");
      return ResultBuilder.bound(
          subject,
          new ComputationOutcome.Bound(ComputationOutcome.Side.ABOVE, curve.highestV(), all),
          notes);
    }
    ComplianceCrossing c = curve.crossing().get();
    if (curve.isDrawn()) {
      return ResultBuilder.drawn(subject, c.valueV(), all);
    }
    double k = CoverageFactors.factor(question.coverage(), OptionalDouble.empty());
    double lower = c.lowV() - k * c.lowU();
    double upper = c.highV() + k * c.highU();
    double expanded = Math.max(c.valueV() - lower, upper - c.valueV());
    ComputationOutcome.Uncertainty u =
        new ComputationOutcome.Uncertainty(
            expanded / k, expanded, lower, upper, question.coverage(), k, OptionalDouble.empty());
    notes.addAll(kneeNotes(c));
    return ResultBuilder.result(
            subject,
            new ComputationOutcome.Value(
                c.valueV(), expanded > 0 ? Optional.of(u) : Optional.empty(), all),
            budget(c),
            notes)
        .by(
            MeasurementModel.of(
                    "V_c = V where I/(%s) = 1 - d, between V_low and V_high"
                        .formatted(question.fromLine() ? "I_0 - G V" : "I_0"))
                .with("d", "1", question.criterion())
                .with("I_0", "A", curve.shortCurrentA().value())
                .with("G", "S", curve.conductanceS().value())
                .with("V_low", "V", c.lowV())
                .with("V_high", "V", c.highV()));
  }

  private static List<String> kneeNotes(ComplianceCrossing c) {
    List<String> notes = new ArrayList<>();
    if (c.points() == 1) {
      notes.add("only one load lies beyond the knee: a denser sweep there narrows the interval");
    }
    if (c.shape() == ComplianceCrossing.Shape.FOLDS_BACK) {
      notes.add("the source folds back: its voltage falls beyond the knee; the first crossing");
    } else if (c.shape() == ComplianceCrossing.Shape.SHARP) {
      notes.add(
          "sharp knee: three loads beyond lie on a line within 3 u, and its crossing is the value");
    }
    return notes;
  }

  private static List<BudgetComponent> budget(ComplianceCrossing c) {
    double half = (c.highV() - c.lowV()) / 2;
    List<BudgetComponent> rows = new ArrayList<>();
    rows.add(
        row(ENCLOSURE, half / Math.sqrt(3), ErrorDistribution.RECTANGULAR, OptionalDouble.empty()));
    if (c.shape() == ComplianceCrossing.Shape.SHARP) {
      rows.add(end("line beyond the knee: voltage, current, bend", c.lowU(), c.lowDegrees()));
      return rows;
    }
    rows.add(end("lower end: voltage and current", c.lowU(), c.lowDegrees()));
    rows.add(end("upper end: voltage and current", c.highU(), c.highDegrees()));
    return rows;
  }

  private static BudgetComponent end(String name, double u, OptionalDouble degrees) {
    return row(name, u, ErrorDistribution.NORMAL, degrees);
  }

  private static BudgetComponent row(
      String name, double u, ErrorDistribution shape, OptionalDouble degrees) {
    return new BudgetComponent(name, "sweep", u, "V", shape, 1, u, degrees);
  }
}
