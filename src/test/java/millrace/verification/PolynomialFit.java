// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import java.math.BigDecimal;
import java.math.MathContext;
import millrace.analysis.regression.LinearFit;

/**
 * A polynomial by weighted least squares that keeps its digits: fitted in powers of z = (x - c)/h
 * by QR, c near the middle of the x and h near half their span, both of few binary digits so that z
 * is exact, and expanded to powers of x only at the end (Bjorck, Numerical Methods for Least
 * Squares Problems, SIAM 1996, 8.5, from memory). Commons Math fits raw powers and reaches three
 * digits fewer on the hardest published set (StRD Filip); methods.md 3.1, 5.4.
 *
 * <p>Immutable and thread-safe.
 */
final class PolynomialFit {
  private static final int QUARTERS = 4;
  private static final MathContext EXACT = new MathContext(60);

  private final LinearFit fit;
  private final double[][] estimator;
  private final double[] coefficients;

  private PolynomialFit(LinearFit fit, double[] y, double centre, double half, int degree) {
    this.fit = fit;
    int n = y.length;
    this.estimator = new double[degree + 1][n];
    this.coefficients = new double[degree + 1];
    double[][] rows = new double[degree + 1][];
    for (int k = 0; k <= degree; k++) {
      rows[k] = fit.estimator(k);
    }
    for (int j = 0; j <= degree; j++) {
      BigDecimal sum = BigDecimal.ZERO;
      for (int k = j; k <= degree; k++) {
        BigDecimal weight = expansion(k, j, centre, half);
        sum = sum.add(weight.multiply(new BigDecimal(fit.coefficient(k))), EXACT);
        for (int i = 0; i < n; i++) {
          estimator[j][i] += weight.doubleValue() * rows[k][i];
        }
      }
      coefficients[j] = sum.doubleValue();
    }
  }

  /**
   * Fits y = sum of b_j x^j, j from 0 to the degree (methods.md 5.4).
   *
   * @param x at least degree + 1 different
   * @param y the observations, as many
   * @param u the standard uncertainty of each, above 0, as many; only ratios matter for the values
   * @param degree 0 or more
   * @return the fit
   * @throws IllegalArgumentException if lengths differ or fewer than degree + 1 different x are
   *     given
   */
  public static PolynomialFit of(double[] x, double[] y, double[] u, int degree) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (double each : x) {
      low = Math.min(low, each);
      high = Math.max(high, each);
    }
    double half = high > low ? Math.scalb(1.0, Math.getExponent((high - low) / 2)) : 1;
    double centre = Math.rint((low + high) / 2 / half * QUARTERS) / QUARTERS * half;
    double[][] columns = new double[degree + 1][x.length];
    for (int i = 0; i < x.length; i++) {
      double z = (x[i] - centre) / half;
      double power = 1;
      for (int k = 0; k <= degree; k++) {
        columns[k][i] = power;
        power *= z;
      }
    }
    return new PolynomialFit(LinearFit.of(columns, y, u), y, centre, half, degree);
  }

  /** What z^k holds of x^j: C(k, j) (-c)^(k - j)/h^k. */
  private static BigDecimal expansion(int k, int j, double centre, double half) {
    BigDecimal weight = BigDecimal.ONE;
    for (int m = 1; m <= j; m++) {
      weight = weight.multiply(BigDecimal.valueOf(k - j + m)).divide(BigDecimal.valueOf(m), EXACT);
    }
    weight = weight.multiply(new BigDecimal(-centre).pow(k - j, EXACT), EXACT);
    return weight.divide(new BigDecimal(half).pow(k, EXACT), EXACT);
  }

  /**
   * A coefficient of the powers of x.
   *
   * @param j the power
   * @return b_j, in units of y over x^j
   */
  public double coefficient(int j) {
    return coefficients[j];
  }

  /**
   * The weights by which a coefficient is the sum of the observations.
   *
   * @param j the power
   * @return a copy, one per observation
   */
  public double[] estimator(int j) {
    return estimator[j].clone();
  }

  /**
   * Standard uncertainty of a coefficient from those of the observations, residuals not asked.
   *
   * @param j the power
   * @param u the standard uncertainties of the observations
   * @return u(b_j)
   */
  public double uncertainty(int j, double... u) {
    double sum = 0;
    for (int i = 0; i < u.length; i++) {
      sum += Math.pow(estimator[j][i] * u[i], 2);
    }
    return Math.sqrt(sum);
  }

  /**
   * The fit in powers of z, for residuals, chi squared and degrees of freedom.
   *
   * @return the fit
   */
  public LinearFit centred() {
    return fit;
  }
}
