// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.uncertainty.Estimate;

/**
 * The least-squares slope over temperature, every visit of equal weight, of the true I(T) at the
 * temperatures visited, straight or not (methods.md 5.2). Where a temperature was revisited, one
 * level per temperature and a time term come first, and the slope is that of the levels at the
 * visits, so that curvature is not read as drift.
 */
final class VisitTemperatureSlope {
  /** Visits farther apart are at two temperatures, K. */
  private static final double SAME_K = 1;

  /** What a time column must add to the levels to count, as a share of its square sum. */
  private static final double LEAST_NEW = 1e-3;

  private final RelativeTemperatureStays stays;
  private final List<TemperaturePoint> points;
  private final double[] above;
  private double[] weights;
  private Optional<double[]> driftWeights = Optional.empty();

  private VisitTemperatureSlope(RelativeTemperatureStays stays) {
    this.stays = stays;
    this.points = stays.points();
    this.above =
        points.stream()
            .mapToDouble(p -> p.temperatureDegC().value() - stays.referenceDegC())
            .toArray();
    this.weights = plain(above);
    double[][] levels = levels();
    if (levels.length < above.length) {
      throughLevels(levels);
    }
  }

  static TemperatureLine of(RelativeTemperatureStays stays) {
    return new VisitTemperatureSlope(stays).line();
  }

  /** (T - mean)/S_TT. */
  private static double[] plain(double[] t) {
    double mean = Arrays.stream(t).average().orElse(0);
    double square = Arrays.stream(t).map(x -> (x - mean) * (x - mean)).sum();
    return Arrays.stream(t).map(x -> (x - mean) / square).toArray();
  }

  /** For each temperature 1 at the visits to it, else 0. */
  private double[][] levels() {
    List<Integer> order = new ArrayList<>();
    for (int i = 0; i < above.length; i++) {
      order.add(i);
    }
    order.sort(Comparator.comparingDouble(i -> above[i]));
    List<double[]> levels = new ArrayList<>();
    double first = Double.NEGATIVE_INFINITY;
    for (int i : order) {
      if (above[i] > first + SAME_K) {
        first = above[i];
        levels.add(new double[above.length]);
      }
      levels.get(levels.size() - 1)[i] = 1;
    }
    return levels.toArray(double[][]::new);
  }

  /** w = w_0 D M, M the rows of the levels in the least-squares solution for levels and time. */
  private void throughLevels(double[][] levels) {
    int n = above.length;
    double mean = points.stream().mapToDouble(TemperaturePoint::timeS).average().orElse(0);
    double[] time = points.stream().mapToDouble(p -> p.timeS() - mean).toArray();
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    double total = Arrays.stream(time).map(t -> t * t).sum();
    if (!(total > 0) || LinearFit.of(levels, time, ones).chiSquared() <= LEAST_NEW * total) {
      return;
    }
    double[][] columns = Arrays.copyOf(levels, levels.length + 1);
    columns[levels.length] = time;
    LinearFit fit = LinearFit.of(columns, time, ones);
    double[] w = new double[n];
    for (int j = 0; j < levels.length; j++) {
      double share = 0;
      for (int i = 0; i < n; i++) {
        share += weights[i] * levels[j][i];
      }
      double[] row = fit.estimator(j);
      for (int i = 0; i < n; i++) {
        w[i] += share * row[i];
      }
    }
    weights = w;
    driftWeights = Optional.of(fit.estimator(levels.length));
  }

  private TemperatureLine line() {
    List<Estimate> relative = points.stream().map(stays::ppm).toList();
    double slope = Estimate.combine(0, weights, relative).value();
    List<Estimate> errors = new ArrayList<>();
    for (int i = 0; i < points.size(); i++) {
      Estimate moved = points.get(i).temperatureDegC().errorsOnly().times(-slope);
      errors.add(relative.get(i).plus(moved));
    }
    Estimate perK = Estimate.combine(0, weights, errors);
    Optional<Estimate> drift = driftWeights.map(w -> Estimate.combine(0, w, errors));
    double middle = Arrays.stream(above).average().orElse(0);
    Estimate intercept = Estimate.mean(errors).minus(perK.times(middle));
    return new TemperatureLine(
        perK, intercept, Estimate.exact(0), drift, residuals(relative, perK, intercept, drift));
  }

  private List<Double> residuals(
      List<Estimate> relative, Estimate perK, Estimate intercept, Optional<Estimate> drift) {
    double mean = points.stream().mapToDouble(TemperaturePoint::timeS).average().orElse(0);
    List<Double> residuals = new ArrayList<>();
    for (int i = 0; i < points.size(); i++) {
      double time = drift.map(Estimate::value).orElse(0.0) * (points.get(i).timeS() - mean);
      residuals.add(relative.get(i).value() - intercept.value() - perK.value() * above[i] - time);
    }
    return residuals;
  }
}
