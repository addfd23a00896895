// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

/**
 * y = c + A exp(-(t - now)/tau) with tau given: A and its standard uncertainty, errors as AR(1)
 * (methods.md 6.1). Least squares in centred form; the uncertainty of the white fit is widened by
 * the {@link AutocorrelationWidening} of the residuals.
 *
 * @param amplitude what is left of the change now
 * @param u its standard uncertainty, 0 or more
 * @param squares the sum of the squared residuals
 */
record Decay(double amplitude, double u, double squares) {

  /** Fits at least three samples that do not all share one time. */
  static Decay of(double[] timeS, double[] y, double tauS) {
    int n = y.length;
    double now = timeS[n - 1];
    double[] x = new double[n];
    double meanX = 0;
    double meanY = 0;
    for (int i = 0; i < n; i++) {
      x[i] = Math.exp(-(timeS[i] - now) / tauS);
      meanX += x[i] / n;
      meanY += y[i] / n;
    }
    double xx = 0;
    double xy = 0;
    for (int i = 0; i < n; i++) {
      xx += (x[i] - meanX) * (x[i] - meanX);
      xy += (x[i] - meanX) * (y[i] - meanY);
    }
    double a = xy / xx;
    double[] residuals = new double[n];
    double squares = 0;
    for (int i = 0; i < n; i++) {
      residuals[i] = y[i] - meanY - a * (x[i] - meanX);
      squares += residuals[i] * residuals[i];
    }
    double white = Math.sqrt(squares / Math.max(1, n - 2) / xx);
    return new Decay(a, white * AutocorrelationWidening.factor(residuals), squares);
  }
}
