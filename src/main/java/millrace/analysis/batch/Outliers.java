// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Outliers by the generalized extreme studentized deviate (Rosner, Technometrics 25 (1983) 165;
 * NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.3; methods.md 8). Outliers are
 * reported, never dropped.
 *
 * @param steps one per suspect, most extreme first
 * @param places of the outliers among the values, from 0, most extreme first
 */
public record Outliers(List<Step> steps, List<Integer> places) {

  /** Copies the lists. */
  public Outliers {
    steps = List.copyOf(steps);
    places = List.copyOf(places);
  }

  /**
   * One suspect.
   *
   * @param place its index among the values, from 0
   * @param deviate R, its distance from the mean of what is left, in standard deviations
   * @param critical lambda, beyond which it is one
   */
  public record Step(int place, double deviate, double critical) {}

  /**
   * Looks for up to so many outliers.
   *
   * @param values finite; at least 3, and two more than suspects
   * @param most largest number of outliers to test for, 1 or more; reduced for few values
   * @param risk of finding one where there is none, such as 0.05
   * @return the outliers; none if all values are equal
   */
  public static Outliers of(double[] values, int most, double risk) {
    return of(values, most, new Criticals(risk));
  }

  /**
   * The same for several sets of values of one size, whose critical values are computed once.
   *
   * @param values as above
   * @param most as above
   * @param criticals of the risk
   * @return as above
   */
  public static Outliers of(double[] values, int most, Criticals criticals) {
    double[] rest = values.clone();
    int[] places = IntStream.range(0, values.length).toArray();
    List<Step> steps = new ArrayList<>();
    int found = 0;
    for (int i = 1; i <= Math.min(most, values.length - 2); i++) {
      int n = values.length - i + 1;
      double mean = BatchMeanAndSpread.mean(rest, n);
      double sd = BatchMeanAndSpread.sd(rest, n, mean);
      if (sd == 0) {
        break;
      }
      int farthest = farthest(rest, n, mean);
      double deviate = Math.abs(rest[farthest] - mean) / sd;
      double critical = criticals.of(values.length, i);
      steps.add(new Step(places[farthest], deviate, critical));
      System.arraycopy(rest, farthest + 1, rest, farthest, n - farthest - 1);
      System.arraycopy(places, farthest + 1, places, farthest, n - farthest - 1);
      found = deviate > critical ? i : found;
    }
    return new Outliers(steps, steps.subList(0, found).stream().map(Step::place).toList());
  }

  private static int farthest(double[] rest, int n, double mean) {
    int farthest = 0;
    for (int i = 1; i < n; i++) {
      if (Math.abs(rest[i] - mean) > Math.abs(rest[farthest] - mean)) {
        farthest = i;
      }
    }
    return farthest;
  }

  /** Critical values of one risk, kept for sets of values of the same size. Thread-safe. */
  public static final class Criticals {
    private final double risk;
    private final Map<Integer, Map<Integer, Double>> known = new ConcurrentHashMap<>();

    /**
     * None is known yet.
     *
     * @param risk of finding an outlier where there is none, such as 0.05
     */
    public Criticals(double risk) {
      this.risk = risk;
    }

    private double of(int n, int i) {
      return known
          .computeIfAbsent(n, size -> new ConcurrentHashMap<>())
          .computeIfAbsent(i, step -> critical(n, step, risk));
    }
  }

  /** lambda_i = (n - i) t/sqrt((n - i - 1 + t^2)(n - i + 1)), t at 1 - risk/(2 (n - i + 1)). */
  private static double critical(int n, int i, double risk) {
    double nu = n - i - 1;
    double t =
        new TDistribution(null, nu).inverseCumulativeProbability(1 - risk / (2 * (n - i + 1.0)));
    return (n - i) * t / Math.sqrt((nu + t * t) * (n - i + 1.0));
  }
}
