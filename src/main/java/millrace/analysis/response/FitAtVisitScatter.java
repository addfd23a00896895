// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

/**
 * The fit of one range for a given scatter s between visits (methods.md 11.2).
 *
 * @param s standard deviation of visits, a number
 * @param doublingK D^, where the terms that double are taken, K
 * @param doubled coefficients of those terms that dy/dD was taken with
 * @param solved the least-squares problem with all its columns
 * @param lower the root of the points' covariance
 * @param logLikelihood restricted log-likelihood, less a constant that does not depend on s
 */
@SuppressWarnings("ArrayRecordComponent") // read only in this package, never compared
record FitAtVisitScatter(
    double s,
    double doublingK,
    double[] doubled,
    Householder solved,
    double[][] lower,
    double logLikelihood) {

  /** The features that depend on D^, dy/dD last. */
  void doubling(ResponseTerms terms, ResponseTerms.Place at, double[] into, int from) {
    terms.doubling(at, doublingK, into, from);
    into[from + terms.doubling().size()] = terms.byDoubling(at, doublingK, doubled);
  }

  /**
   * Sensitivity of each coefficient to each point's y and to one standard deviation of each prior
   * row.
   *
   * @param inverse R^-1 of the fit
   */
  double[][] weights(double[][] inverse) {
    double[][] q = solved.orthogonal();
    int p = inverse.length;
    int rows = q[0].length;
    double[][] w = new double[p][rows];
    for (int i = 0; i < p; i++) {
      double[] row = w[i];
      for (int k = i; k < p; k++) {
        double share = inverse[i][k];
        double[] column = q[k];
        for (int r = 0; r < rows; r++) {
          row[r] += share * column[r];
        }
      }
      pointwise(row);
    }
    return w;
  }

  /** Converts weighted rows back to those of y: x L = w. */
  private void pointwise(double[] w) {
    for (int i = lower.length - 1; i >= 0; i--) {
      double sum = w[i];
      for (int j = i + 1; j < lower.length; j++) {
        sum -= lower[j][i] * w[j];
      }
      w[i] = sum / lower[i][i];
    }
  }

  /** The covariance of the coefficients, from R^-1 of the fit. */
  static double[][] covariance(double[][] inverse) {
    int p = inverse.length;
    double[][] c = new double[p][p];
    for (int i = 0; i < p; i++) {
      for (int j = 0; j < p; j++) {
        double sum = 0;
        for (int k = Math.max(i, j); k < p; k++) {
          sum += inverse[i][k] * inverse[j][k];
        }
        c[i][j] = sum;
      }
    }
    return c;
  }
}
