// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ErrorDistribution;

/**
 * The weighted quadratic fit of I/I_ref - 1 over T - T_ref, with a time term wherever T_ref was
 * revisited (methods.md 5.4, 5.9). Weights come from what a stay shares with no other, its
 * temperature included; covariance unscaled, scaled by the scatter only where no uncertainty is
 * known (3.1).
 */
final class TemperatureFit {
  private static final int DEGREE = 2;
  private static final String SCATTER = "scatter about the fit";

  /** What a time column must add to the others to count, as a share of its square sum. */
  private static final double LEAST_NEW = 1e-3;

  private final List<TemperaturePoint> points;
  private final double referenceDegC;
  private final double ppmPerA;
  private final List<Estimate> relative;
  private final boolean revisited;
  private final Predicate<ErrorSource> own;

  private TemperatureFit(RelativeTemperatureStays stays) {
    this.points = stays.points();
    this.referenceDegC = stays.referenceDegC();
    this.ppmPerA = stays.ppmPerA();
    this.relative = points.stream().map(stays::ppm).toList();
    this.revisited = stays.visits().size() >= 2;
    Set<ErrorSource> shared = shared(points);
    this.own = s -> !shared.contains(s);
  }

  static TemperatureFit of(RelativeTemperatureStays stays) {
    return new TemperatureFit(stays);
  }

  private static Set<ErrorSource> shared(List<TemperaturePoint> points) {
    Set<ErrorSource> seen = new HashSet<>();
    Set<ErrorSource> shared = new HashSet<>();
    for (TemperaturePoint p : points) {
      Set<ErrorSource> here = new HashSet<>(p.currentA().contributions().keySet());
      here.addAll(p.temperatureDegC().contributions().keySet());
      here.stream().filter(s -> !seen.add(s)).forEach(shared::add);
    }
    return shared;
  }

  TemperatureLine quadratic() {
    double[][] columns = columns();
    boolean timed = columns.length > DEGREE + 1;
    double[] y = relative.stream().mapToDouble(Estimate::value).toArray();
    LinearFit first = LinearFit.of(columns, y, weights(new double[y.length]));
    LinearFit fit = LinearFit.of(columns, y, weights(local(first)));
    List<Estimate> errors = errors(local(fit), fit);
    return new TemperatureLine(
        Estimate.combine(0, fit.estimator(1), errors),
        Estimate.combine(0, fit.estimator(0), errors),
        Estimate.combine(0, fit.estimator(2), errors),
        timed
            ? Optional.of(Estimate.combine(0, fit.estimator(DEGREE + 1), errors))
            : Optional.empty(),
        Arrays.stream(fit.residuals()).boxed().toList());
  }

  private double[][] columns() {
    int n = points.size();
    double[][] columns = new double[DEGREE + 1][n];
    double[] time = new double[n];
    double mean = points.stream().mapToDouble(TemperaturePoint::timeS).average().orElse(0);
    for (int i = 0; i < n; i++) {
      double above = points.get(i).temperatureDegC().value() - referenceDegC;
      for (int j = 0; j <= DEGREE; j++) {
        columns[j][i] = Math.pow(above, j);
      }
      time[i] = points.get(i).timeS() - mean;
    }
    if (!revisited || n < DEGREE + 2 || !addsSomething(columns, time)) {
      return columns;
    }
    return Stream.concat(Arrays.stream(columns), Stream.of(time)).toArray(double[][]::new);
  }

  /** Whether time can be separated from temperature: never where all times are equal. */
  private static boolean addsSomething(double[][] columns, double[] time) {
    double total = Arrays.stream(time).map(t -> t * t).sum();
    double[] ones = new double[time.length];
    Arrays.fill(ones, 1);
    return total > 0 && LinearFit.of(columns, time, ones).chiSquared() > LEAST_NEW * total;
  }

  /** The derivative of the fit at each stay, ppm/K. */
  private double[] local(LinearFit fit) {
    return points.stream()
        .mapToDouble(
            p ->
                fit.coefficient(1)
                    + 2 * fit.coefficient(2) * (p.temperatureDegC().value() - referenceDegC))
        .toArray();
  }

  /** One stay without a known error is enough for the scatter to stand in for all. */
  private boolean known() {
    return points.stream().allMatch(p -> p.currentA().standardUncertainty(own) > 0);
  }

  private double[] weights(double[] slopes) {
    double[] u = new double[points.size()];
    Arrays.fill(u, 1);
    for (int i = 0; known() && i < u.length; i++) {
      double current = points.get(i).currentA().standardUncertainty(own) * ppmPerA;
      u[i] =
          Math.hypot(current, slopes[i] * points.get(i).temperatureDegC().standardUncertainty(own));
    }
    return u;
  }

  /** The errors of the relative currents, those of the temperatures among them. */
  private List<Estimate> errors(double[] slopes, LinearFit fit) {
    List<Estimate> errors = new ArrayList<>();
    OptionalDouble nu = OptionalDouble.of(Math.max(1, fit.degreesOfFreedom()));
    double scatter =
        known() || fit.degreesOfFreedom() < 1
            ? 0
            : Math.sqrt(fit.chiSquared() / fit.degreesOfFreedom());
    for (int i = 0; i < slopes.length; i++) {
      Estimate moved = points.get(i).temperatureDegC().errorsOnly().times(-slopes[i]);
      Estimate error = relative.get(i).plus(moved);
      errors.add(error.with(scatter(i, nu, scatter), 1));
    }
    return errors;
  }

  private static ErrorSource scatter(int stay, OptionalDouble nu, double ppm) {
    return new ErrorSource(
        SCATTER, ErrorSource.POINT, "stay " + stay, ErrorDistribution.NORMAL, nu, ppm, "ppm");
  }
}
