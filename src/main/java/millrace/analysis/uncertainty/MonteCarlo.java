// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.NumberText;
import millrace.time.Seeds;

/**
 * Propagation of distributions by the Monte Carlo method with an adaptive number of trials (JCGM
 * 101:2008, 7.9; methods.md 2.5): any function of estimates is evaluated with every source redrawn,
 * in batches, until mean, u and both ends of the interval are stable to two digits of u, or until
 * they tell what was asked. A batch is tried in blocks, each with random numbers of its own, on all
 * processors: the same seed gives the same bits on any number of them.
 */
public final class MonteCarlo {
  private static final int LEAST_BATCH = 10_000;
  private static final int SIGNIFICANT_DIGITS = 2;

  /** Trials with random numbers of their own; large beside what it costs to begin them. */
  private static final int BLOCK = 250;

  private MonteCarlo() {}

  /** What is computed from the inputs. */
  @FunctionalInterface
  public interface Model {
    /**
     * Computes the result once.
     *
     * @param inputs the inputs as drawn, in the order of the estimates
     * @return the result; empty where it is not computed from these inputs
     */
    OptionalDouble result(double[] inputs);
  }

  /**
   * How long to try.
   *
   * @param seeds where chance comes from
   * @param coverage probability of the interval, above 0 and below 1
   * @param mostTrials the ceiling, at least 20,000
   * @param validating true to try until the figures are stable to a fifth of the tolerance, as a
   *     validation of the first-order result needs (8.2)
   */
  public record Plan(Seeds seeds, double coverage, int mostTrials, boolean validating) {
    /** Checks the ranges. */
    public Plan {
      if (!(coverage > 0 && coverage < 1)) {
        throw new IllegalArgumentException("coverage is " + coverage + ", must be within 0 and 1");
      }
      if (mostTrials < 2 * LEAST_BATCH) {
        throw new IllegalArgumentException(
            "at most " + mostTrials + " trials, must be " + 2 * LEAST_BATCH + " or more");
      }
    }
  }

  /**
   * What the trials gave.
   *
   * @param mean of the results
   * @param standardUncertainty their standard deviation
   * @param lower lower end of the probabilistically symmetric interval
   * @param upper its upper end
   * @param shortestLower lower end of the shortest interval
   * @param shortestUpper its upper end
   * @param trials how many results there are
   * @param failed how many trials gave none
   * @param stable false if the ceiling was reached before the figures were stable
   */
  public record Finding(
      double mean,
      double standardUncertainty,
      double lower,
      double upper,
      double shortestLower,
      double shortestUpper,
      int trials,
      int failed,
      boolean stable) {
    private Finding withStable(boolean isStable) {
      return new Finding(
          mean,
          standardUncertainty,
          lower,
          upper,
          shortestLower,
          shortestUpper,
          trials,
          failed,
          isStable);
    }
  }

  /**
   * The validation of the first-order result (JCGM 101:2008, 8.1).
   *
   * @param lowerDifference distance of the lower ends
   * @param upperDifference distance of the upper ends
   * @param tolerance delta, half a unit of the second digit of u (7.9.2)
   * @param agrees true if neither distance exceeds delta
   */
  public record Comparison(
      double lowerDifference, double upperDifference, double tolerance, boolean agrees) {}

  /**
   * The trials of one result so far, and how its figures differ from batch to batch (JCGM 101:2008,
   * 7.9). One thread at a time.
   */
  private static final class Tally {
    private static final int FIGURES = 4;

    private final double coverage;
    private final double[][] batches = new double[FIGURES][2];
    private double[] results = {};
    private int n;
    private int h;
    private int failed;

    /** What all results so far gave; empty until it is asked for. */
    private Optional<Finding> found = Optional.empty();

    Tally(double coverage) {
      this.coverage = coverage;
    }

    /** Adds a batch; what is not finite gave no result. */
    void add(double[] batch) {
      found = Optional.empty();
      double[] given = Arrays.stream(batch).filter(Double::isFinite).toArray();
      failed += batch.length - given.length;
      if (given.length > 1) {
        close(given);
      }
      if (n + given.length > results.length) {
        results = Arrays.copyOf(results, Math.max(2 * n, n + given.length));
      }
      System.arraycopy(given, 0, results, n, given.length);
      n += given.length;
    }

    private void close(double[] given) {
      double mean = mean(given);
      double[] sorted = given.clone();
      Arrays.sort(sorted);
      double[] interval = symmetric(sorted, coverage);
      double[] figures = {mean, deviation(given, mean), interval[0], interval[1]};
      for (int i = 0; i < FIGURES; i++) {
        batches[i] = h == batches[i].length ? Arrays.copyOf(batches[i], 2 * h) : batches[i];
        batches[i][h] = figures[i];
      }
      h++;
    }

    /** How many trials gave a result. */
    int size() {
      return n;
    }

    /** How many batches gave figures. */
    int batches() {
      return h;
    }

    /** Standard deviation of all results. */
    double scatter() {
      double[] all = Arrays.copyOf(results, n);
      return deviation(all, mean(all));
    }

    /** Whether twice the standard error of each figure is within a tolerance (7.9.4). */
    boolean stable(double tolerance) {
      for (double[] each : batches) {
        double[] figures = Arrays.copyOf(each, h);
        double s = deviation(figures, mean(figures)) / Math.sqrt(h);
        if (!(2 * s <= tolerance)) {
          return false;
        }
      }
      return true;
    }

    /** What the trials gave, not told whether stable; there are two results or more. */
    Finding finding() {
      if (found.isEmpty()) {
        found = Optional.of(computed());
      }
      return found.get();
    }

    private Finding computed() {
      double[] all = Arrays.copyOf(results, n);
      double mean = mean(all);
      double u = deviation(all, mean);
      Arrays.sort(all);
      double[] symmetric = symmetric(all, coverage);
      double[] shortest = shortest(all, coverage);
      return new Finding(
          mean, u, symmetric[0], symmetric[1], shortest[0], shortest[1], all.length, failed, false);
    }
  }

  /** Several results that are computed from the inputs at once. Called by several threads. */
  @FunctionalInterface
  public interface Models {
    /**
     * Computes the results once.
     *
     * @param inputs the inputs as drawn, in the order of the estimates
     * @param ended for each result whether its trials are over, so that nothing is asked of it; not
     *     to be changed
     * @return the results, always as many; NaN where one is not computed from these inputs
     */
    double[] results(double[] inputs, boolean[] ended);
  }

  /** Who waits for trials, and when they may end. */
  public interface Observer {
    /** Ends trials when they are stable, and shows nothing. */
    Observer NONE = new Observer() {};

    /**
     * Trials were made. Called by several threads.
     *
     * @param more how many, since the last call
     */
    default void tried(int more) {}

    /**
     * Whether the trials of one result tell already what they are asked. Called by several threads,
     * for a result by one.
     *
     * @param output which result, from 0
     * @param found what its trials gave so far
     * @return true if more of them cannot change the answer
     */
    default boolean told(int output, Finding found) {
      return false;
    }
  }

  /** One trial with random numbers. */
  @FunctionalInterface
  private interface Trial {
    double[] results(SplittableRandom random, boolean[] ended);
  }

  /**
   * Evaluates a function of estimates with their sources redrawn.
   *
   * @param inputs what the result is computed from
   * @param model how it is computed
   * @param plan seeds, coverage and ceiling
   * @return what the trials gave; empty if fewer than two gave a result
   */
  public static Optional<Finding> run(List<Estimate> inputs, Model model, Plan plan) {
    Models one = (drawn, ended) -> new double[] {model.result(drawn).orElse(Double.NaN)};
    return all(inputs, 1, one, plan, Observer.NONE).get(0);
  }

  /**
   * Evaluates several functions of the same estimates with their sources redrawn, each until it is
   * stable or told.
   *
   * @param inputs what the results are computed from
   * @param outputs how many results there are
   * @param models how they are computed
   * @param plan seeds, coverage and ceiling
   * @param observer who waits for them
   * @return what the trials gave, one for each; empty if fewer than two gave a result
   */
  public static List<Optional<Finding>> all(
      List<Estimate> inputs, int outputs, Models models, Plan plan, Observer observer) {
    Draws draws = new Draws(inputs);
    return tried(
        (random, ended) -> models.results(draws.next(random), ended), outputs, plan, observer);
  }

  /**
   * Trials of a standard deviation that was found with some degrees of freedom: s sqrt(nu/chi^2)
   * (JCGM 101:2008, 6.4.9.2, the size of the scaled and shifted t distribution).
   *
   * @param s the standard deviation, 0 or more
   * @param degrees of freedom, above 0
   * @param plan seeds, coverage and ceiling
   * @return what the trials gave
   */
  public static Optional<Finding> ofDeviation(double s, double degrees, Plan plan) {
    Trial trial =
        (random, ended) ->
            new double[] {s * Math.sqrt(degrees / Draws.chiSquared(degrees, random))};
    return tried(trial, 1, plan, Observer.NONE).get(0);
  }

  private static List<Optional<Finding>> tried(
      Trial trial, int outputs, Plan plan, Observer observer) {
    List<Tally> tallies = new ArrayList<>();
    for (int i = 0; i < outputs; i++) {
      tallies.add(new Tally(plan.coverage()));
    }
    int batch = (int) Math.max(LEAST_BATCH, Math.ceil(100 / (1 - plan.coverage())));
    boolean[] ended = new boolean[outputs];
    int open = outputs;
    for (int tried = 0; open > 0 && tried + batch <= plan.mostTrials(); tried += batch) {
      Batch from = new Batch(tried, batch, plan.seeds(), ended.clone());
      double[][] results = batch(trial, new double[outputs][batch], from, observer);
      IntStream.range(0, outputs)
          .parallel()
          .filter(i -> !from.ended[i])
          .forEach(
              i -> {
                tallies.get(i).add(results[i]);
                ended[i] = ended(tallies.get(i), i, plan, observer);
              });
      open = outputs - count(ended);
    }
    return tallies.parallelStream().map(t -> finding(t, plan)).toList();
  }

  private static int count(boolean[] ended) {
    int n = 0;
    for (boolean each : ended) {
      n += each ? 1 : 0;
    }
    return n;
  }

  /** Trials from a number on, and which results are over by then. */
  private static final class Batch {
    private final int from;
    private final int size;
    private final Seeds seeds;
    private final boolean[] ended;

    Batch(int from, int size, Seeds seeds, boolean... ended) {
      this.from = from;
      this.size = size;
      this.seeds = seeds;
      this.ended = ended;
    }
  }

  /** Which thread takes a block does not matter: its random numbers and its places are its own. */
  private static double[][] batch(Trial trial, double[][] results, Batch batch, Observer observer) {
    int size = batch.size;
    IntStream.range(0, (size + BLOCK - 1) / BLOCK)
        .parallel()
        .forEach(
            block -> {
              int first = block * BLOCK;
              int to = Math.min(size, first + BLOCK);
              SplittableRandom random = batch.seeds.stream("trials from " + (batch.from + first));
              for (int k = first; k < to; k++) {
                double[] each = trial.results(random, batch.ended);
                for (int i = 0; i < results.length; i++) {
                  results[i][k] = each[i];
                }
              }
              observer.tried(to - first);
            });
    return results;
  }

  /** A result that no trial gives will not be given by more of them. */
  private static boolean ended(Tally tally, int output, Plan plan, Observer observer) {
    if (tally.size() == 0) {
      return true;
    }
    return tally.batches() > 1
        && (stable(tally, plan)
            || (observer != Observer.NONE && observer.told(output, tally.finding())));
  }

  private static boolean stable(Tally tally, Plan plan) {
    return tally.batches() > 1
        && tally.stable(tolerance(tally.scatter()) / (plan.validating() ? 5 : 1));
  }

  private static Optional<Finding> finding(Tally tally, Plan plan) {
    return tally.size() < 2
        ? Optional.empty()
        : Optional.of(tally.finding().withStable(stable(tally, plan)));
  }

  /**
   * Numerical tolerance for two significant digits of u = c 10^l: half of 10^l (JCGM 101:2008,
   * 7.9.2).
   *
   * @param u the standard uncertainty, 0 or more
   * @return delta
   */
  static double tolerance(double u) {
    if (!(u > 0) || Double.isInfinite(u)) {
      return 0;
    }
    return 0.5 * NumberText.powerOfTen(NumberText.decade(u) - (SIGNIFICANT_DIGITS - 1));
  }

  /**
   * Holds the first-order interval against the trials (JCGM 101:2008, 8.1.3; methods.md 2.5).
   *
   * @param firstOrder the first-order uncertainty
   * @param trials what the trials gave at the same coverage
   * @return distances, tolerance and whether they agree
   */
  public static Comparison compare(ComputationOutcome.Uncertainty firstOrder, Finding trials) {
    double low = Math.abs(firstOrder.lower() - trials.lower());
    double high = Math.abs(firstOrder.upper() - trials.upper());
    double delta = tolerance(firstOrder.standard());
    return new Comparison(low, high, delta, low <= delta && high <= delta);
  }

  private static double mean(double[] values) {
    double sum = 0;
    for (double v : values) {
      sum += v - values[0];
    }
    return values[0] + sum / values.length;
  }

  private static double deviation(double[] values, double mean) {
    double sum = 0;
    for (double v : values) {
      sum += (v - mean) * (v - mean);
    }
    return Math.sqrt(sum / (values.length - 1));
  }

  /** JCGM 101:2008, 7.7.2. */
  private static double[] symmetric(double[] sorted, double coverage) {
    int q = inside(sorted, coverage);
    int r = (sorted.length - q) / 2;
    return new double[] {sorted[r], sorted[Math.min(sorted.length - 1, r + q)]};
  }

  /** JCGM 101:2008, 7.7.4. */
  private static double[] shortest(double[] sorted, double coverage) {
    int q = inside(sorted, coverage);
    int best = 0;
    for (int r = 0; r + q < sorted.length; r++) {
      if (sorted[r + q] - sorted[r] < sorted[best + q] - sorted[best]) {
        best = r;
      }
    }
    return new double[] {sorted[best], sorted[best + q]};
  }

  private static int inside(double[] sorted, double coverage) {
    return Math.min(sorted.length - 1, (int) Math.floor(coverage * sorted.length + 0.5));
  }
}
