// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

/**
 * By how much errors that follow one another widen the uncertainty of a fit: sqrt((1 + r)/(1 - r)),
 * r the lag-1 autocorrelation of the residuals, corrected for two coefficients (Kendall and Stuart,
 * The Advanced Theory of Statistics 3, 48.3, from memory; methods.md 6.1).
 */
final class AutocorrelationWidening {
  private static final double MOST_CORRELATION = 0.98;

  private AutocorrelationWidening() {}

  /** The factor, 1 or more, for residuals in the order of time. */
  static double factor(double[] residuals) {
    double squares = 0;
    double lagged = 0;
    double before = 0;
    for (double residual : residuals) {
      squares += residual * residual;
      lagged += residual * before;
      before = residual;
    }
    double r = correlation(squares > 0 ? lagged / squares : 0, residuals.length);
    return Math.sqrt((1 + r) / (1 - r));
  }

  private static double correlation(double observed, int n) {
    double corrected = observed + (2 + 4 * Math.max(0, observed)) / n;
    return Math.min(MOST_CORRELATION, Math.max(0, corrected));
  }
}
