// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import millrace.analysis.uncertainty.Quantiles;

/**
 * Weighted linear least squares: y = X b, weights 1/u^2, through an orthogonal factorization of the
 * weighted design (never the normal equations, which square the condition). Source: Bjorck,
 * Numerical Methods for Least Squares Problems, SIAM 1996, 2.4 (from memory); weights and
 * covariance as in JCGM 100:2008, H.3; methods.md 3.1.
 *
 * <p>Immutable and thread-safe.
 */
public final class LinearFit {
  /** A change of the fit that is within the rounding of the observations. */
  private static final double ROUNDING = 1e-15;

  private final double[] coefficients;
  private final GramSchmidtFactorization design;
  private final double[] residuals;
  private final double chiSquared;

  private LinearFit(
      double[] coefficients,
      GramSchmidtFactorization design,
      double[] residuals,
      double chiSquared) {
    this.coefficients = coefficients;
    this.design = design;
    this.residuals = residuals;
    this.chiSquared = chiSquared;
  }

  /**
   * Fits. A step of refinement follows where it changes anything (Bjorck, 2.9): what the residuals
   * still hold goes to the coefficients.
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
          "%s observations, %s uncertainties for %s coefficients".formatted(n, u.length, p));
    }
    GramSchmidtFactorization design = GramSchmidtFactorization.of(columns, u);
    GramSchmidtFactorization.Rest start = design.rest(y);
    double[] b = start.change();
    GramSchmidtFactorization.Rest rest = design.rest(columns, y, b);
    for (int j = 0; j < p; j++) {
      b[j] += rest.change()[j];
    }
    if (!(rest.changedSquares() <= ROUNDING * ROUNDING * start.weightedSquares())) {
      rest = design.rest(columns, y, b);
    }
    double chi = rest.weightedSquares() / (u[0] * u[0]);
    return new LinearFit(b, design, rest.residuals(), chi);
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
   * @return computed anew, length n
   */
  public double[] estimator(int j) {
    return design.estimator(j);
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
   * else 1 (methods.md 3.1).
   *
   * @return 1 or more
   */
  public double birgeFactor() {
    int nu = degreesOfFreedom();
    if (nu < 1) {
      return 1;
    }
    double bound = Quantiles.chiSquared(0.95, nu);
    return chiSquared > bound ? Math.sqrt(chiSquared / nu) : 1;
  }
}
