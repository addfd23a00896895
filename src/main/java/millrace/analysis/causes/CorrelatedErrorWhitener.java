// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.Arrays;

/**
 * Turns correlated errors into independent ones of unit variance: z = L^-1 y with L L^T the
 * covariance (Cholesky). Source: Golub and Van Loan, Matrix Computations, 3rd ed., Johns Hopkins
 * 1996, 4.2.5 (from memory). Immutable.
 */
final class CorrelatedErrorWhitener {
  private final double[][] factor;

  /** Factorizes a symmetric positive definite matrix. */
  static CorrelatedErrorWhitener of(double[][] covariance) {
    CorrelatedErrorWhitener whitener = new CorrelatedErrorWhitener(new double[0][]);
    for (double[] row : covariance) {
      whitener = whitener.extended(row);
    }
    return whitener;
  }

  private CorrelatedErrorWhitener(double[][] factor) {
    this.factor = factor;
  }

  /** The same with one more value: its covariance with each of the others, then its variance. */
  CorrelatedErrorWhitener extended(double[] covariance) {
    double[][] longer = Arrays.copyOf(factor, factor.length + 1);
    longer[factor.length] = row(covariance, factor.length);
    return new CorrelatedErrorWhitener(longer);
  }

  private double[] row(double[] covariance, int i) {
    double[] row = new double[i + 1];
    for (int j = 0; j < i; j++) {
      row[j] = (covariance[j] - dot(row, factor[j], j)) / factor[j][j];
    }
    double left = covariance[i] - dot(row, row, i);
    if (!(left > 0)) {
      throw new IllegalArgumentException("a covariance that is not positive definite");
    }
    row[i] = Math.sqrt(left);
    return row;
  }

  static double dot(double[] a, double[] b, int n) {
    double sum = 0;
    for (int k = 0; k < n; k++) {
      sum += a[k] * b[k];
    }
    return sum;
  }

  double[] apply(double[] y) {
    double[] z = new double[factor.length];
    for (int i = 0; i < z.length; i++) {
      z[i] = (y[i] - dot(factor[i], z, i)) / factor[i][i];
    }
    return z;
  }

  /** The errors y = L z that independent ones of unit variance stand for. */
  double[] undo(double[] z) {
    double[] y = new double[factor.length];
    for (int i = 0; i < y.length; i++) {
      y[i] = dot(factor[i], z, i + 1);
    }
    return y;
  }
}
