// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ErrorDistribution;

/**
 * A weighted linear fit through estimates: weights from their point-wise uncertainties, covariance
 * unscaled, and every error carried through the estimator's own weights, so that what points share
 * enters once (JCGM 100:2008, H.3 and F.1.2.3). Where the scatter exceeds its 95 % bound the
 * point-wise errors are widened by the Birge ratio and count with the fit's degrees of freedom;
 * where no point-wise error is known the scatter of the residuals stands in, unweighted (methods.md
 * 3.1).
 *
 * <p>Immutable and thread-safe.
 */
public final class LinearFitOfEstimates {
  private final LinearFit fit;
  private final List<Estimate> plain;
  private final List<Estimate> errors;
  private final double birge;
  private final boolean scaledByResiduals;

  private LinearFitOfEstimates(
      LinearFit fit,
      List<Estimate> plain,
      List<Estimate> errors,
      double birge,
      boolean scaledByResiduals) {
    this.fit = fit;
    this.plain = plain;
    this.errors = errors;
    this.birge = birge;
    this.scaledByResiduals = scaledByResiduals;
  }

  /**
   * Fits y = X b (methods.md 3.1). Errors of values of a trial are not widened: by how much is
   * decided by the readings ({@link #widenedBy}).
   *
   * @param columns the columns of the design, each as long as y
   * @param y the observations with their errors
   * @param keys a name for each observation, all different
   * @param unit of the observations
   * @return the fit
   * @throws IllegalArgumentException if there are fewer observations than columns or the columns
   *     are linearly dependent
   */
  public static LinearFitOfEstimates of(
      double[][] columns, List<Estimate> y, List<String> keys, String unit) {
    int n = y.size();
    double[] values = new double[n];
    double[] u = new double[n];
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < n; i++) {
      values[i] = y.get(i).value();
      u[i] = y.get(i).pointUncertainty();
      least = u[i] > 0 ? Math.min(least, u[i]) : least;
    }
    boolean unknown = Double.isInfinite(least);
    for (int i = 0; i < n; i++) {
      u[i] = unknown ? 1 : Math.max(u[i], least);
    }
    LinearFit fit = LinearFit.of(columns, values, u);
    if (unknown) {
      return new LinearFitOfEstimates(fit, y, scattered(y, keys, fit, unit), 1, true);
    }
    double birge = y.get(0).isDrawn() ? 1 : fit.birgeFactor();
    return new LinearFitOfEstimates(fit, y, y, 1, false).widenedBy(birge);
  }

  /**
   * The same fit with point-wise errors widened by a given factor instead of its own.
   *
   * @param factor 1 or more
   * @return the fit; this one where no point-wise error was known
   */
  public LinearFitOfEstimates widenedBy(double factor) {
    return scaledByResiduals
        ? this
        : new LinearFitOfEstimates(
            fit, plain, factor > 1 ? widened(plain, factor, fit) : plain, factor, false);
  }

  private static List<Estimate> scattered(
      List<Estimate> y, List<String> keys, LinearFit fit, String unit) {
    int nu = fit.degreesOfFreedom();
    double s = nu < 1 ? 0 : Math.sqrt(fit.chiSquared() / nu);
    double step = DataDecimalStep.of(y);
    if (step / Math.sqrt(12) > s) {
      return rounded(y, keys, step, unit);
    } else if (!(s > 0)) {
      return y;
    }
    OptionalDouble degrees = OptionalDouble.of(nu);
    List<Estimate> with = new ArrayList<>();
    for (int i = 0; i < y.size(); i++) {
      ErrorSource scatter =
          new ErrorSource(
              "scatter about the fit",
              ErrorSource.POINT,
              keys.get(i),
              ErrorDistribution.NORMAL,
              degrees,
              s,
              unit);
      with.add(y.get(i).with(scatter, 1));
    }
    return with;
  }

  /** Where data are coarser than their scatter, neighbours may be rounded all the same way. */
  private static List<Estimate> rounded(
      List<Estimate> y, List<String> keys, double step, String unit) {
    ErrorSource all = DataDecimalStep.rounding(step, ErrorSource.RUN, "all", unit);
    List<Estimate> with = new ArrayList<>();
    for (int i = 0; i < y.size(); i++) {
      ErrorSource own = DataDecimalStep.rounding(step, ErrorSource.POINT, keys.get(i), unit);
      with.add(y.get(i).with(own, 1).with(all, 1));
    }
    return with;
  }

  private static List<Estimate> widened(List<Estimate> y, double birge, LinearFit fit) {
    OptionalDouble nu = OptionalDouble.of(fit.degreesOfFreedom());
    return y.stream()
        .map(e -> e.widened(birge, ErrorSource::pointWise))
        .map(e -> e.withSources(s -> s.pointWise() ? s.sizedBy(nu, "scatter about the fit") : s))
        .toList();
  }

  /**
   * A coefficient with all its errors, in a trial its value alone. Its value is that of the fit: as
   * a sum of observations a small slope of large currents would lose the digits in which they
   * agree.
   *
   * @param j which, from 0
   * @return the coefficient
   */
  public Estimate coefficient(int j) {
    if (errors.get(0).isDrawn()) {
      return Estimate.drawn(fit.coefficient(j), 0, 0);
    }
    Estimate sum = Estimate.combine(0, fit.estimator(j), errors);
    return sum.plus(Estimate.exact(fit.coefficient(j) - sum.value()));
  }

  /**
   * A linear combination of coefficients, such as the fitted value at a place.
   *
   * @param weights one per coefficient
   * @return the combination
   */
  public Estimate combination(double... weights) {
    double[] total = new double[errors.size()];
    for (int j = 0; j < weights.length; j++) {
      double[] row = fit.estimator(j);
      for (int i = 0; i < total.length; i++) {
        total[i] += weights[j] * row[i];
      }
    }
    return Estimate.combine(0, total, errors);
  }

  /**
   * A coefficient's value alone.
   *
   * @param j which, from 0
   * @return its value
   */
  public double value(int j) {
    return fit.coefficient(j);
  }

  /**
   * Observation minus fit.
   *
   * @return a copy
   */
  public double[] residuals() {
    return fit.residuals();
  }

  /**
   * By which factor point-wise errors were widened.
   *
   * @return 1 or more
   */
  public double birge() {
    return birge;
  }

  /**
   * Tells whether the scatter of the residuals stood in for unknown errors.
   *
   * @return true if no point-wise error was known
   */
  public boolean scaledByResiduals() {
    return scaledByResiduals;
  }

  /**
   * Observations less coefficients.
   *
   * @return 0 or more
   */
  public int degreesOfFreedom() {
    return fit.degreesOfFreedom();
  }
}
