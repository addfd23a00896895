// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntConsumer;
import java.util.function.IntFunction;
import millrace.analysis.load.KneeVoltage;
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
  private static final int LEAST = 20_000;

  /** The fewest trials as a share of the work, where some results need more and most do not. */
  private static final double FEWEST_SHARE = 0.7;

  /**
   * The ends of the trials' interval differ significantly beyond this many of their standard
   * errors.
   */
  private static final double CLEAR = 3;

  /**
   * The trials are held to two digits of U; what differs by less than this share is counted apart.
   */
  private static final double LITTLE = 0.1;

  private final String name;
  private final Again again;
  private final double coverage;
  private final List<Estimate> inputs = new ArrayList<>();
  private final List<List<ReducedPoint>> light = new ArrayList<>();

  /** Where the inputs of each group begin. */
  private final List<Integer> begins = new ArrayList<>();

  /** Computes results from points, both in groups. */
  @FunctionalInterface
  interface Again {
    /**
     * The results, in an order that does not depend on the readings.
     *
     * @param points those of a group of the measured ones, moved where they are asked for
     * @param over for each result of each group whether nothing is asked of it
     * @return results by group; anything for a result of which nothing is asked, and for a group of
     *     them
     */
    List<List<Result>> of(IntFunction<List<ReducedPoint>> points, boolean[][] over);
  }

  private MonteCarloResultCheck(String name, double coverage, Again again) {
    this.name = name;
    this.coverage = coverage;
    this.again = again;
  }

  /**
   * Trials of results that are computed from points.
   *
   * @param name name of these trials, which selects their seed
   * @param points the points in groups, with what each soak left among their errors
   * @param coverage probability of intervals
   * @param again computes the results from points
   */
  static MonteCarloResultCheck of(
      String name, List<List<ReducedPoint>> points, double coverage, Again again) {
    MonteCarloResultCheck trials = new MonteCarloResultCheck(name, coverage, again);
    for (List<ReducedPoint> group : points) {
      trials.light.add(new TrialPoints(group).light());
      trials.begins.add(trials.inputs.size());
      for (ReducedPoint p : group) {
        trials.inputs.add(p.currentA());
        trials.inputs.add(p.voltageV());
        trials.inputs.add(p.temperatureDegC().orElse(Estimate.exact(0)));
      }
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
            TrialAgreement.NO_TRIALS
                + "how such a range scatters from record to record is from theory")
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
   * @param firstOrder the first-order results in groups
   * @param seeds of the random numbers
   * @param tried takes how many trials were made since it was told last, from several threads
   * @return the same groups
   */
  List<List<Result>> beside(List<List<Result>> firstOrder, Seeds seeds, IntConsumer tried) {
    MonteCarlo.Plan plan = new MonteCarlo.Plan(seeds.derive(name), coverage, MOST, true);
    List<Result> all = firstOrder.stream().flatMap(List::stream).toList();
    Iterator<Optional<Finding>> found =
        MonteCarlo.all(
                inputs,
                all.size(),
                (drawn, ended) -> values(drawn, ended, firstOrder),
                plan,
                new Waiting(all, tried))
            .iterator();
    List<List<Result>> noted = new ArrayList<>();
    for (List<Result> group : firstOrder) {
      noted.add(group.stream().map(r -> found.next().map(f -> noted(r, f, "")).orElse(r)).toList());
    }
    return noted;
  }

  /**
   * Which share of the work trials are: the fewest are most of it, since many results end there.
   *
   * @param trials how many were made
   * @return from 0 to 1
   */
  static double share(int trials) {
    double fewest = Math.min(1, (double) trials / LEAST);
    double others = Math.max(0, (double) (trials - LEAST) / (MOST - LEAST));
    return Math.min(1, FEWEST_SHARE * fewest + (1 - FEWEST_SHARE) * others);
  }

  /**
   * Whether a result was checked by trials.
   *
   * @param result with its notes
   */
  static boolean tried(Result result) {
    return result.notes().stream()
        .anyMatch(n -> n.startsWith(TrialAgreement.HEAD) || n.startsWith(TrialAgreement.NO_TRIALS));
  }

  /** Ends the trials of a result whose answer is clear, or would still not be with the most. */
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
      if (!TrialAgreement.hasInterval(result)) {
        return true;
      }
      ComputationOutcome.Uncertainty u =
          ((ComputationOutcome.Value) result.outcome()).uncertainty().orElseThrow();
      Comparison c = MonteCarlo.compare(u, found);
      double off = enclosed(result) ? beyond(u, found) : largest(c);
      double clear = Math.abs(off - c.tolerance()) / CLEAR;
      double error = endError(found, coverage);
      return clear > error || clear < error * Math.sqrt((double) found.trials() / MOST);
    }
  }

  private double[] values(double[] drawn, boolean[] ended, List<List<Result>> firstOrder) {
    boolean[][] over = new boolean[firstOrder.size()][];
    int from = 0;
    for (int g = 0; g < over.length; g++) {
      int to = from + firstOrder.get(g).size();
      over[g] = Arrays.copyOfRange(ended, from, to);
      from = to;
    }
    List<List<Result>> now = again.of(group -> moved(group, drawn), over);
    double[] values = new double[ended.length];
    from = 0;
    for (int g = 0; g < over.length; g++) {
      values(now.get(g), firstOrder.get(g), values, from);
      from += over[g].length;
    }
    return values;
  }

  private List<ReducedPoint> moved(int group, double... drawn) {
    int at = begins.get(group);
    List<ReducedPoint> moved = new ArrayList<>(light.get(group).size());
    for (ReducedPoint p : light.get(group)) {
      moved.add(TrialPoints.moved(p, drawn, at));
      at += 3;
    }
    return moved;
  }

  private static void values(List<Result> now, List<Result> firstOrder, double[] values, int from) {
    for (int i = 0; i < firstOrder.size(); i++) {
      boolean same =
          now.size() == firstOrder.size() && now.get(i).quantity() == firstOrder.get(i).quantity();
      values[from + i] =
          same && now.get(i).outcome() instanceof ComputationOutcome.Value v
              ? v.value()
              : Double.NaN;
    }
  }

  private static Result noted(Result result, Finding trials, String what) {
    if (!(result.outcome() instanceof ComputationOutcome.Value value)
        || value.uncertainty().isEmpty()) {
      return result;
    }
    ComputationOutcome.Uncertainty u = value.uncertainty().get();
    Comparison comparison = MonteCarlo.compare(u, trials);
    return result.noting(
        (TrialAgreement.HEAD + "%s trials%s: mean %s, u %s, interval %s to %s; %s")
            .formatted(
                trials.trials(),
                what,
                NumberText.significant(trials.mean(), 6),
                NumberText.significant(trials.standardUncertainty(), 3),
                NumberText.significant(trials.lower(), 6),
                NumberText.significant(trials.upper(), 6),
                enclosed(result) ? enclosure(result, u, trials) : verdict(comparison, trials, u)));
  }

  private static boolean enclosed(Result result) {
    return result.quantity() == ResultQuantity.TEMPCO_BOX
        || result.notes().contains(KneeVoltage.ROUNDED)
        || result.budget().stream().anyMatch(c -> c.component().equals(LoadResults.ENCLOSURE));
  }

  /** An enclosure covers more than errors of readings, so trials may lie anywhere inside it. */
  private static String enclosure(Result result, ComputationOutcome.Uncertainty u, Finding trials) {
    double beyond = beyond(u, trials);
    double slack = MonteCarlo.compare(u, trials).tolerance();
    String besides =
        switch (result.quantity()) {
          case TEMPCO_BOX -> "what picking the largest and the smallest of all currents adds";
          case KNEE_VOLTAGE -> "what a rounded knee leaves open between two straight segments";
          default -> "what the shape of the knee between two loads leaves open";
        };
    return beyond <= slack
        ? TrialAgreement.ENCLOSES
            + ": besides errors of readings, which trials draw, it holds "
            + besides
        : TrialAgreement.BEYOND + " by " + NumberText.significant(beyond, 2);
  }

  private static double beyond(ComputationOutcome.Uncertainty u, Finding trials) {
    return Math.max(u.lower() - trials.lower(), trials.upper() - u.upper());
  }

  private static double largest(Comparison c) {
    return Math.max(c.lowerDifference(), c.upperDifference());
  }

  private static String verdict(
      Comparison comparison, Finding trials, ComputationOutcome.Uncertainty u) {
    double off = largest(comparison);
    String tolerance = NumberText.significant(comparison.tolerance(), 2);
    if (comparison.agrees()) {
      return TrialAgreement.AGREES + " within " + tolerance;
    }
    boolean clear = off > comparison.tolerance() + CLEAR * endError(trials, u.coverage());
    return clear
        ? ((off < LITTLE * u.expanded() ? TrialAgreement.LITTLE : TrialAgreement.DISAGREE)
                + ": ends differ by up to %s, tolerance %s")
            .formatted(NumberText.significant(off, 2), tolerance)
        : ("ends differ by up to %s, " + TrialAgreement.UNDECIDED + " from the tolerance of %s")
            .formatted(NumberText.significant(off, 2), tolerance);
  }

  /** Standard error of an end: that of a quantile of a normal sample, about 2 u from the mean. */
  private static double endError(Finding trials, double coverage) {
    double tail = (1 - coverage) / 2;
    double density = Math.exp(-2) / Math.sqrt(2 * Math.PI);
    return trials.standardUncertainty() * Math.sqrt(tail * (1 - tail) / trials.trials()) / density;
  }
}
