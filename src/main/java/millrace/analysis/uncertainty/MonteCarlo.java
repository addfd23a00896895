// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.NumberText;
import millrace.time.Seeds;

/**
 * Propagation of distributions by the Monte Carlo method with an adaptive number of trials (JCGM
 * 101:2008, 7.9; methods.md 2.5): any function of estimates is evaluated with every source redrawn,
 * in batches, until mean, u and both ends of the interval are stable to two digits of u.
 */
public final class MonteCarlo {
  private static final int LEAST_BATCH = 10_000;
  private static final int SIGNIFICANT_DIGITS = 2;

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
      boolean stable) {}

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

  /** The results of the trials so far. */
  private static final class Tally {
    private double[] results = new double[2 * LEAST_BATCH];
    private double[][] batches = new double[4][16];
    private int n;
    private int failed;
    private int h;

    void add(double result) {
      if (n == results.length) {
        results = Arrays.copyOf(results, 2 * n);
      }
      results[n++] = result;
    }

    void close(int from, double coverage) {
      if (n - from < 2) {
        return;
      }
      double[] batch = Arrays.copyOfRange(results, from, n);
      Arrays.sort(batch);
      double[] interval = symmetric(batch, coverage);
      double mean = mean(batch);
      double[] figures = {mean, deviation(batch, mean), interval[0], interval[1]};
      for (int i = 0; i < figures.length; i++) {
        batches[i] = h == batches[i].length ? Arrays.copyOf(batches[i], 2 * h) : batches[i];
        batches[i][h] = figures[i];
      }
      h++;
    }

    boolean stable(double tolerance) {
      for (double[] each : batches) {
        double[] figures = Arrays.copyOf(each, h);
        double mean = mean(figures);
        double s = deviation(figures, mean) / Math.sqrt(h);
        if (!(2 * s <= tolerance)) {
          return false;
        }
      }
      return true;
    }
  }

  /** Several results that are computed from the inputs at once. */
  @FunctionalInterface
  public interface Models {
    /**
     * Computes the results once.
     *
     * @param inputs the inputs as drawn, in the order of the estimates
     * @return the results, always as many; empty where one is not computed from these inputs
     */
    List<OptionalDouble> results(double[] inputs);
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
    return all(inputs, 1, drawn -> List.of(model.result(drawn)), plan).get(0);
  }

  /**
   * Evaluates several functions of the same estimates with their sources redrawn, until each is
   * stable.
   *
   * @param inputs what the results are computed from
   * @param outputs how many results there are
   * @param models how they are computed
   * @param plan seeds, coverage and ceiling
   * @return what the trials gave, one for each; empty if fewer than two gave a result
   */
  public static List<Optional<Finding>> all(
      List<Estimate> inputs, int outputs, Models models, Plan plan) {
    Draws draws = new Draws(inputs, plan.seeds().stream("monte carlo"));
    return tried(() -> models.results(draws.next()), outputs, plan);
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
    Draws draws = new Draws(List.of(), plan.seeds().stream("monte carlo"));
    return tried(
            () -> List.of(OptionalDouble.of(s * Math.sqrt(degrees / draws.chiSquared(degrees)))),
            1,
            plan)
        .get(0);
  }

  private static List<Optional<Finding>> tried(
      Supplier<List<OptionalDouble>> next, int outputs, Plan plan) {
    List<Tally> tallies = new ArrayList<>();
    for (int i = 0; i < outputs; i++) {
      tallies.add(new Tally());
    }
    int batch = (int) Math.max(LEAST_BATCH, Math.ceil(100 / (1 - plan.coverage())));
    boolean stable = false;
    for (int tried = 0; !stable && tried + batch <= plan.mostTrials(); tried += batch) {
      int[] from = tallies.stream().mapToInt(t -> t.n).toArray();
      for (int i = 0; i < batch; i++) {
        keep(next.get(), tallies);
      }
      stable = true;
      for (int i = 0; i < outputs; i++) {
        tallies.get(i).close(from[i], plan.coverage());
        stable &= stable(tallies.get(i), plan);
      }
    }
    return tallies.stream().map(t -> finding(t, plan)).toList();
  }

  private static void keep(List<OptionalDouble> results, List<Tally> tallies) {
    for (int i = 0; i < results.size(); i++) {
      OptionalDouble result = results.get(i);
      if (result.isPresent() && Double.isFinite(result.getAsDouble())) {
        tallies.get(i).add(result.getAsDouble());
      } else {
        tallies.get(i).failed++;
      }
    }
  }

  /** A result that no trial gives will not be given by more of them. */
  private static boolean stable(Tally tally, Plan plan) {
    return tally.n == 0
        || (tally.h > 1 && tally.stable(tolerance(overall(tally)) / (plan.validating() ? 5 : 1)));
  }

  private static Optional<Finding> finding(Tally tally, Plan plan) {
    return tally.n < 2
        ? Optional.empty()
        : Optional.of(finding(tally, plan.coverage(), tally.h > 1 && stable(tally, plan)));
  }

  private static double overall(Tally tally) {
    double[] all = Arrays.copyOf(tally.results, tally.n);
    return deviation(all, mean(all));
  }

  private static Finding finding(Tally tally, double coverage, boolean stable) {
    double[] all = Arrays.copyOf(tally.results, tally.n);
    double mean = mean(all);
    double u = deviation(all, mean);
    Arrays.sort(all);
    double[] symmetric = symmetric(all, coverage);
    double[] shortest = shortest(all, coverage);
    return new Finding(
        mean,
        u,
        symmetric[0],
        symmetric[1],
        shortest[0],
        shortest[1],
        tally.n,
        tally.failed,
        stable);
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
