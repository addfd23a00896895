package millrace.analysis.settling;

/**
 * y = c + A exp(-(t - now)/tau) with tau given: A and its standard uncertainty, errors as AR(1)
 * (measurement.md 6.1). Least squares in centred form; the uncertainty of the white fit is widened
 * by sqrt((1 + r)/(1 - r)), r the lag-1 autocorrelation of the residuals, corrected for the two
 * coefficients (Kendall and Stuart, The Advanced Theory of Statistics 3, 48.3, from memory).
 *
 * @param amplitude what is left of the change now
 * @param u its standard uncertainty, 0 or more
 * @param squares the sum of the squared residuals
 */
record Decay(double amplitude, double u, double squares) {
  private static final double MOST_CORRELATION = 0.98;

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
    double squares = 0;
    double lagged = 0;
    double before = 0;
    for (int i = 0; i < n; i++) {
      double residual = y[i] - meanY - a * (x[i] - meanX);
      squares += residual * residual;
      lagged += residual * before;
      before = residual;
    }
    double r = correlation(squares > 0 ? lagged / squares : 0, n);
    double white = Math.sqrt(squares / Math.max(1, n - 2) / xx);
    return new Decay(a, white * Math.sqrt((1 + r) / (1 - r)), squares);
  }

  private static double correlation(double observed, int n) {
    double corrected = observed + (2 + 4 * Math.max(0, observed)) / n;
    return Math.min(MOST_CORRELATION, Math.max(0, corrected));
  }
}
