// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.ArrayList;
import java.util.List;
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
    List<Integer> left = new ArrayList<>();
    for (int i = 0; i < values.length; i++) {
      left.add(i);
    }
    List<Step> steps = new ArrayList<>();
    int found = 0;
    for (int i = 1; i <= Math.min(most, values.length - 2); i++) {
      double[] rest = left.stream().mapToDouble(p -> values[p]).toArray();
      double mean = BatchMeanAndSpread.mean(rest);
      double sd = BatchMeanAndSpread.sd(rest, mean);
      if (sd == 0) {
        break;
      }
      int farthest = farthest(values, left, mean);
      double deviate = Math.abs(values[farthest] - mean) / sd;
      steps.add(new Step(farthest, deviate, critical(values.length, i, risk)));
      left.remove(Integer.valueOf(farthest));
      found = deviate > steps.get(i - 1).critical() ? i : found;
    }
    return new Outliers(steps, steps.subList(0, found).stream().map(Step::place).toList());
  }

  private static int farthest(double[] values, List<Integer> left, double mean) {
    int farthest = left.get(0);
    for (int p : left) {
      if (Math.abs(values[p] - mean) > Math.abs(values[farthest] - mean)) {
        farthest = p;
      }
    }
    return farthest;
  }

  /** lambda_i = (n - i) t/sqrt((n - i - 1 + t^2)(n - i + 1)), t at 1 - risk/(2 (n - i + 1)). */
  private static double critical(int n, int i, double risk) {
    double nu = n - i - 1;
    double t =
        new TDistribution(null, nu).inverseCumulativeProbability(1 - risk / (2 * (n - i + 1.0)));
    return (n - i) * t / Math.sqrt((nu + t * t) * (n - i + 1.0));
  }
}
