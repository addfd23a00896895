// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntConsumer;
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
 * and computes all values again; a note on each result says whether its interval agrees (JCGM
 * 101:2008, 8; methods.md 2.5). Trials of a result end when its figures are stable (7.9), or when
 * they tell whether it agrees.
 */
final class MonteCarloResultCheck {
  private static final int MOST = 40_000;

  /** Fewer than two batches tell nothing of how their figures scatter (7.9.4). */
  static final int LEAST = 20_000;

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
  private final Again again;
  private final double coverage;
  private final List<Estimate> inputs = new ArrayList<>();
  private final List<ReducedPoint> light;

  /** Computes results from points. */
  @FunctionalInterface
  interface Again {
    /** The results, in an order that does not depend on the readings. */
    List<Result> of(List<ReducedPoint> points);
  }

  private MonteCarloResultCheck(
      String name, List<ReducedPoint> points, double coverage, Again again) {
    this.name = name;
    this.coverage = coverage;
    this.again = again;
    this.light = new TrialPoints(points).light();
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
   * @param tried takes how many trials were made since it was told last, from several threads
   */
  List<Result> beside(List<Result> firstOrder, Seeds seeds, IntConsumer tried) {
    MonteCarlo.Plan plan = new MonteCarlo.Plan(seeds.derive(name), coverage, MOST, true);
    List<Optional<Finding>> found =
        MonteCarlo.all(
            inputs,
            firstOrder.size(),
            drawn -> values(drawn, firstOrder),
            plan,
            new Waiting(firstOrder, tried));
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

  /** Ends the trials of a result whose answer is clear. */
  private final class Waiting implements MonteCarlo.Observer {
    private final List<Result> firstOrder;
    private final IntConsumer tried;

    Waiting(List<Result> firstOrder, IntConsumer tried) {
      this.firstOrder = firstOrder;
      this.tried = tried;
    }

    @Override
    public void tried(int more) {
      tried.accept(more);
    }

    @Override
    public boolean told(int output, Finding found) {
      Result result = firstOrder.get(output);
      if (!hasInterval(result)) {
        return true;
      }
      ComputationOutcome.Uncertainty u =
          ((ComputationOutcome.Value) result.outcome()).uncertainty().orElseThrow();
      Comparison c = MonteCarlo.compare(u, found);
      double off = enclosed(result) ? beyond(u, found) : largest(c);
      return Math.abs(off - c.tolerance()) > CLEAR * endError(found, coverage);
    }
  }

  private double[] values(double[] drawn, List<Result> firstOrder) {
    List<ReducedPoint> moved = new ArrayList<>();
    for (int i = 0; i < light.size(); i++) {
      moved.add(TrialPoints.moved(light.get(i), drawn, 3 * i));
    }
    List<Result> now = again.of(moved);
    double[] values = new double[firstOrder.size()];
    for (int i = 0; i < values.length; i++) {
      boolean same =
          now.size() == values.length && now.get(i).quantity() == firstOrder.get(i).quantity();
      values[i] =
          same && now.get(i).outcome() instanceof ComputationOutcome.Value v
              ? v.value()
              : Double.NaN;
    }
    return values;
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
    double beyond = beyond(u, trials);
    double slack = MonteCarlo.compare(u, trials).tolerance();
    String besides =
        result.quantity() == ResultQuantity.TEMPCO_BOX
            ? "what picking the largest and the smallest of all currents adds"
            : "what the shape of the knee between two loads leaves open";
    return beyond <= slack
        ? ENCLOSES + ": besides errors of readings, which trials draw, it holds " + besides
        : BEYOND + " by " + NumberText.significant(beyond, 2);
  }

  private static double beyond(ComputationOutcome.Uncertainty u, Finding trials) {
    return Math.max(u.lower() - trials.lower(), trials.upper() - u.upper());
  }

  private static double largest(Comparison c) {
    return Math.max(c.lowerDifference(), c.upperDifference());
  }

  private static String verdict(Comparison comparison, Finding trials, double coverage) {
    double off = largest(comparison);
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
