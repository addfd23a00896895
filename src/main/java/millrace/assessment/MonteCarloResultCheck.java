// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadResults;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.MonteCarlo;
import millrace.analysis.uncertainty.MonteCarlo.Comparison;
import millrace.analysis.uncertainty.MonteCarlo.Finding;
import millrace.assessment.reduction.ReducedPoint;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.time.Seeds;

/**
 * Checks first-order results by Monte Carlo trials. A trial draws every error of every point anew
 * and computes all results again; a note on each result says whether its interval agrees (JCGM
 * 101:2008, 8; methods.md 2.5).
 */
final class MonteCarloResultCheck {
  private static final int MOST = 20_000;

  /**
   * The ends of the trials' interval differ significantly beyond this many of their standard
   * errors.
   */
  private static final double CLEAR = 3;

  private static final String HEAD = "Monte Carlo, ";
  private static final String NO_TRIALS = "no trials: ";
  private static final String AGREES = "it agrees with the first-order interval";
  private static final String ENCLOSES = "the stated interval encloses it";
  private static final String DISAGREE = "the two disagree";
  private static final String BEYOND = "it reaches beyond the stated enclosure";
  private static final String UNDECIDED = "which so many trials do not tell";

  private final String name;
  private final List<ReducedPoint> points;
  private final Again again;
  private final double coverage;
  private final List<Estimate> inputs = new ArrayList<>();

  /** Computes results from points. */
  @FunctionalInterface
  interface Again {
    /** The results, in an order that does not depend on the readings. */
    List<Result> of(List<ReducedPoint> points);
  }

  private MonteCarloResultCheck(
      String name, List<ReducedPoint> points, double coverage, Again again) {
    this.name = name;
    this.points = points;
    this.coverage = coverage;
    this.again = again;
  }

  /**
   * Trials of results that are computed from points.
   *
   * @param name name of these trials, which selects their seed
   * @param points the points, with what each soak left among their errors
   * @param coverage probability of intervals
   * @param again computes the results from points
   */
  static MonteCarloResultCheck of(
      String name, List<ReducedPoint> points, double coverage, Again again) {
    MonteCarloResultCheck trials = new MonteCarloResultCheck(name, points, coverage, again);
    for (ReducedPoint p : points) {
      trials.inputs.add(p.currentA());
      trials.inputs.add(p.voltageV());
      trials.inputs.add(p.temperatureDegC().orElse(Estimate.exact(0)));
    }
    return trials;
  }

  /**
   * Trials of a result by its budget. A result from a record over time is not computed again from
   * drawn readings, since that would count their scatter twice. Its components are drawn from their
   * distributions; the size of a standard deviation is drawn by its degrees of freedom.
   *
   * @param result the result
   * @param coverage probability of intervals
   * @param seeds of the random numbers
   */
  static Result byBudget(Result result, double coverage, Seeds seeds) {
    if (!(result.outcome() instanceof ComputationOutcome.Value value)
        || value.uncertainty().isEmpty()) {
      return result;
    }
    Seeds own = seeds.derive(result.quantity().key() + result.range() + result.at());
    MonteCarlo.Plan plan = new MonteCarlo.Plan(own, coverage, MOST, true);
    OptionalDouble degrees = value.uncertainty().get().degreesOfFreedom();
    if (!result.budget().isEmpty()) {
      List<Estimate> whole = List.of(rebuilt(value.value(), result.budget()));
      return MonteCarlo.run(whole, x -> OptionalDouble.of(x[0]), plan)
          .map(f -> noted(result, f, " of its budget (not of its readings)"))
          .orElse(result);
    }
    return degrees.isEmpty()
        ? result.noting(
            NO_TRIALS + "how such a range scatters from record to record is from theory")
        : MonteCarlo.ofDeviation(value.value(), degrees.getAsDouble(), plan)
            .map(f -> noted(result, f, " of a deviation of so many degrees of freedom"))
            .orElse(result);
  }

  private static Estimate rebuilt(double value, List<BudgetComponent> budget) {
    Estimate estimate = Estimate.exact(value);
    for (int i = 0; i < budget.size(); i++) {
      BudgetComponent c = budget.get(i);
      ErrorSource source =
          new ErrorSource(
              c.component(),
              c.group(),
              "row " + i,
              c.distribution(),
              c.degreesOfFreedom(),
              c.value(),
              c.unit());
      estimate = estimate.with(source, c.sensitivity());
    }
    return estimate;
  }

  /**
   * The results, each with a note on its trials.
   *
   * @param firstOrder the first-order results
   * @param seeds of the random numbers
   */
  List<Result> beside(List<Result> firstOrder, Seeds seeds) {
    MonteCarlo.Plan plan = new MonteCarlo.Plan(seeds.derive(name), coverage, MOST, true);
    List<Optional<Finding>> found =
        MonteCarlo.all(inputs, firstOrder.size(), drawn -> values(drawn, firstOrder), plan);
    List<Result> noted = new ArrayList<>();
    for (int i = 0; i < firstOrder.size(); i++) {
      Result result = firstOrder.get(i);
      noted.add(found.get(i).map(f -> noted(result, f, "")).orElse(result));
    }
    return noted;
  }

  /**
   * Whether a result was checked by trials.
   *
   * @param result with its notes
   */
  static boolean tried(Result result) {
    return result.notes().stream().anyMatch(n -> n.startsWith(HEAD) || n.startsWith(NO_TRIALS));
  }

  /**
   * The number of results that the trials agree with, in one sentence.
   *
   * @param results results with notes on their trials
   * @return the sentence; empty if there were no trials
   */
  static Optional<String> summary(List<Result> results) {
    long agree = saying(results, AGREES) + saying(results, ENCLOSES);
    long disagree = saying(results, DISAGREE) + saying(results, BEYOND);
    long undecided = saying(results, UNDECIDED);
    long tried = agree + disagree + undecided;
    if (tried == 0) {
      return Optional.empty();
    }
    long with = results.stream().filter(MonteCarloResultCheck::hasInterval).count();
    return Optional.of(
        "Monte Carlo (JCGM 101, clause 8): %s of %s with an interval agree with their trials; %s %s; of %s so many trials do not tell; %s had no trials"
            .formatted(
                agree,
                NumberText.counted(with, "result"),
                disagree,
                disagree == 1 ? "disagrees, and says by how much" : "disagree, and say by how much",
                undecided,
                Math.max(0, with - tried)));
  }

  private static boolean hasInterval(Result result) {
    return result.outcome() instanceof ComputationOutcome.Value value
        && value.uncertainty().isPresent();
  }

  private static long saying(List<Result> results, String what) {
    return results.stream()
        .filter(r -> r.notes().stream().anyMatch(n -> n.startsWith(HEAD) && n.contains(what)))
        .count();
  }

  private List<OptionalDouble> values(double[] drawn, List<Result> firstOrder) {
    List<ReducedPoint> moved = new ArrayList<>();
    for (int i = 0; i < points.size(); i++) {
      moved.add(moved(points.get(i), drawn, 3 * i));
    }
    List<Result> now = again.of(moved);
    List<OptionalDouble> values = new ArrayList<>();
    for (int i = 0; i < firstOrder.size(); i++) {
      boolean same =
          now.size() == firstOrder.size()
              && now.get(i).quantity() == firstOrder.get(i).quantity()
              && now.get(i).outcome() instanceof ComputationOutcome.Value;
      values.add(
          same
              ? OptionalDouble.of(((ComputationOutcome.Value) now.get(i).outcome()).value())
              : OptionalDouble.empty());
    }
    return values;
  }

  private static ReducedPoint moved(ReducedPoint p, double[] drawn, int at) {
    return new ReducedPoint(
        p.point(),
        p.name(),
        p.stay(),
        p.timeS(),
        to(p.currentA(), drawn[at]),
        to(p.voltageV(), drawn[at + 1]),
        p.temperatureDegC().map(t -> to(t, drawn[at + 2])),
        p.unsteady(),
        p.notes());
  }

  private static Estimate to(Estimate estimate, double value) {
    return estimate.errorsOnly().plus(value);
  }

  private static Result noted(Result result, Finding trials, String what) {
    if (!(result.outcome() instanceof ComputationOutcome.Value value)
        || value.uncertainty().isEmpty()) {
      return result;
    }
    ComputationOutcome.Uncertainty u = value.uncertainty().get();
    Comparison comparison = MonteCarlo.compare(u, trials);
    return result.noting(
        (HEAD + "%s trials%s: mean %s, u %s, interval %s to %s; %s")
            .formatted(
                trials.trials(),
                what,
                NumberText.significant(trials.mean(), 6),
                NumberText.significant(trials.standardUncertainty(), 3),
                NumberText.significant(trials.lower(), 6),
                NumberText.significant(trials.upper(), 6),
                enclosed(result)
                    ? enclosure(result, u, trials)
                    : verdict(comparison, trials, u.coverage())));
  }

  private static boolean enclosed(Result result) {
    return result.quantity() == ResultQuantity.TEMPCO_BOX
        || result.budget().stream().anyMatch(c -> c.component().equals(LoadResults.ENCLOSURE));
  }

  /** An enclosure covers more than errors of readings, so trials may lie anywhere inside it. */
  private static String enclosure(Result result, ComputationOutcome.Uncertainty u, Finding trials) {
    double beyond = Math.max(u.lower() - trials.lower(), trials.upper() - u.upper());
    double slack = MonteCarlo.compare(u, trials).tolerance();
    String besides =
        result.quantity() == ResultQuantity.TEMPCO_BOX
            ? "what picking the largest and the smallest of all currents adds"
            : "what the shape of the knee between two loads leaves open";
    return beyond <= slack
        ? ENCLOSES + ": besides errors of readings, which trials draw, it holds " + besides
        : BEYOND + " by " + NumberText.significant(beyond, 2);
  }

  private static String verdict(Comparison comparison, Finding trials, double coverage) {
    double off = Math.max(comparison.lowerDifference(), comparison.upperDifference());
    String tolerance = NumberText.significant(comparison.tolerance(), 2);
    if (comparison.agrees()) {
      return AGREES + " within " + tolerance;
    }
    boolean clear = off > comparison.tolerance() + CLEAR * endError(trials, coverage);
    return clear
        ? (DISAGREE + ": ends differ by up to %s, tolerance %s")
            .formatted(NumberText.significant(off, 2), tolerance)
        : ("ends differ by up to %s, " + UNDECIDED + " from the tolerance of %s")
            .formatted(NumberText.significant(off, 2), tolerance);
  }

  /** Standard error of an end: that of a quantile of a normal sample, about 2 u from the mean. */
  private static double endError(Finding trials, double coverage) {
    double tail = (1 - coverage) / 2;
    double density = Math.exp(-2) / Math.sqrt(2 * Math.PI);
    return trials.standardUncertainty() * Math.sqrt(tail * (1 - tail) / trials.trials()) / density;
  }
}
