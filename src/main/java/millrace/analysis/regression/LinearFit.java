package millrace.analysis.regression;

import org.apache.commons.math3.distribution.ChiSquaredDistribution;

/**
 * Weighted linear least squares: y = X b, weights 1/u^2, through a QR factorization of the weighted
 * design with its columns scaled to unit length (never the normal equations, which square the
 * condition). Source: Bjorck, Numerical Methods for Least Squares Problems, SIAM 1996, 2.4 (from
 * memory); weights and covariance as in JCGM 100:2008, H.3; measurement.md 3.1.
 *
 * <p>Immutable and thread-safe.
 */
public final class LinearFit {
  /** Of a column of unit length, what its forerunners do not explain must exceed this. */
  private static final double LEAST_INDEPENDENCE = 1e-12;

  private final double[] coefficients;
  private final double[][] estimator;
  private final double[] residuals;
  private final double chiSquared;

  private LinearFit(
      double[] coefficients, double[][] estimator, double[] residuals, double chiSquared) {
    this.coefficients = coefficients;
    this.estimator = estimator;
    this.residuals = residuals;
    this.chiSquared = chiSquared;
  }

  /**
   * Fits.
   *
   * @param columns the columns of the design, p of them, each of length n, n at least p
   * @param y the observations, length n
   * @param u the standard uncertainty of each, above 0, length n; only ratios matter for the values
   * @return the fit
   * @throws IllegalArgumentException if lengths differ, n is below p or the columns are linearly
   *     dependent
   */
  public static LinearFit of(double[][] columns, double[] y, double[] u) {
    int n = y.length;
    int p = columns.length;
    if (n < p || u.length != n) {
      throw new IllegalArgumentException(
          "%d observations, %d uncertainties for %d coefficients".formatted(n, u.length, p));
    }
    double[] scale = new double[p];
    double[][] design = new double[p][n];
    for (int j = 0; j < p; j++) {
      scale[j] = weightedLength(columns[j], u);
      for (int i = 0; i < n; i++) {
        design[j][i] = columns[j][i] / (u[i] * scale[j]);
      }
    }
    double[][] estimator = pseudoInverse(design);
    double[] b = new double[p];
    for (int j = 0; j < p; j++) {
      for (int i = 0; i < n; i++) {
        estimator[j][i] /= u[i] * scale[j];
        b[j] += estimator[j][i] * y[i];
      }
    }
    double[] residuals = refined(columns, y, b, estimator);
    double chi = 0;
    for (int i = 0; i < n; i++) {
      chi += residuals[i] * residuals[i] / (u[i] * u[i]);
    }
    return new LinearFit(b, estimator, residuals, chi);
  }

  /**
   * One step of refinement (Bjorck, 2.9): what the residuals still hold goes to the coefficients.
   */
  private static double[] refined(double[][] columns, double[] y, double[] b, double[][] e) {
    double[] rest = residuals(columns, y, b);
    for (int j = 0; j < b.length; j++) {
      b[j] += dot(e[j], rest);
    }
    return residuals(columns, y, b);
  }

  /** Taken in units of its largest part, so that squares neither overflow nor vanish. */
  private static double weightedLength(double[] column, double[] u) {
    double largest = 0;
    for (int i = 0; i < column.length; i++) {
      largest = Math.max(largest, Math.abs(column[i] / u[i]));
    }
    if (!(largest > 0)) {
      throw new IllegalArgumentException("a column of the design is zero");
    }
    double sum = 0;
    for (int i = 0; i < column.length; i++) {
      double part = column[i] / u[i] / largest;
      sum += part * part;
    }
    return largest * Math.sqrt(sum);
  }

  /**
   * R^-1 Q^T of the thin factorization by modified Gram-Schmidt, each column made orthogonal twice
   * (Bjorck, 2.4.5 and 2.4.7), which needs n times p squared steps.
   */
  private static double[][] pseudoInverse(double[][] design) {
    int p = design.length;
    double[][] q = new double[p][];
    double[][] r = new double[p][p];
    for (int j = 0; j < p; j++) {
      q[j] = design[j].clone();
      for (int pass = 0; pass < 2; pass++) {
        for (int k = 0; k < j; k++) {
          double projection = dot(q[k], q[j]);
          r[k][j] += projection;
          subtract(q[j], q[k], projection);
        }
      }
      r[j][j] = Math.sqrt(dot(q[j], q[j]));
      if (!(r[j][j] > LEAST_INDEPENDENCE)) {
        throw new IllegalArgumentException("the columns of the design are linearly dependent");
      }
      subtract(q[j], q[j], 1 - 1 / r[j][j]);
    }
    for (int j = p - 1; j >= 0; j--) {
      for (int k = j + 1; k < p; k++) {
        subtract(q[j], q[k], r[j][k]);
      }
      subtract(q[j], q[j], 1 - 1 / r[j][j]);
    }
    return q;
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  private static void subtract(double[] from, double[] what, double times) {
    for (int i = 0; i < from.length; i++) {
      from[i] -= times * what[i];
    }
  }

  private static double[] residuals(double[][] columns, double[] y, double[] b) {
    double[] r = y.clone();
    for (int j = 0; j < b.length; j++) {
      for (int i = 0; i < r.length; i++) {
        r[i] -= b[j] * columns[j][i];
      }
    }
    return r;
  }

  /**
   * A coefficient.
   *
   * @param j which, from 0
   * @return its value
   */
  public double coefficient(int j) {
    return coefficients[j];
  }

  /**
   * The weights by which a coefficient is the sum of the observations, so that correlated errors
   * can be propagated through it.
   *
   * @param j which coefficient, from 0
   * @return a copy, length n
   */
  public double[] estimator(int j) {
    return estimator[j].clone();
  }

  /**
   * Observation minus fit.
   *
   * @return a copy, length n
   */
  public double[] residuals() {
    return residuals.clone();
  }

  /**
   * The weighted sum of squared residuals.
   *
   * @return chi squared
   */
  public double chiSquared() {
    return chiSquared;
  }

  /**
   * Observations less coefficients.
   *
   * @return 0 or more
   */
  public int degreesOfFreedom() {
    return residuals.length - coefficients.length;
  }

  /**
   * By how much the scatter exceeds what the uncertainties explain (Birge ratio; Birge, Phys. Rev.
   * 40 (1932) 207, from memory): sqrt(chi squared/nu) where chi squared is beyond its 95 % bound,
   * else 1 (measurement.md 3.1).
   *
   * @return 1 or more
   */
  public double birgeFactor() {
    int nu = degreesOfFreedom();
    if (nu < 1) {
      return 1;
    }
    double bound = new ChiSquaredDistribution(null, nu).inverseCumulativeProbability(0.95);
    return chiSquared > bound ? Math.sqrt(chiSquared / nu) : 1;
  }
}
