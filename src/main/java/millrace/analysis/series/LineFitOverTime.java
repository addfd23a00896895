// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

/**
 * The least-squares line over many points, by centred sums, with the lag-1 autocorrelation of its
 * residuals (methods.md 2.1, 6.3). Three passes, and nothing stored.
 */
final class LineFitOverTime {
  private static final int LEAST_FOR_CORRELATION = 100;

  private final int n;
  private final Residuals residuals;

  /** What the residuals come to. */
  private record Residuals(double squares, double lagged, double range) {}

  private LineFitOverTime(int n, Residuals residuals) {
    this.n = n;
    this.residuals = residuals;
  }

  static LineFitOverTime of(double[] x, double[] y) {
    int n = y.length;
    double sumX = 0;
    double sumY = 0;
    for (int i = 0; i < n; i++) {
      sumX += x[i] - x[0];
      sumY += y[i] - y[0];
    }
    double meanX = x[0] + sumX / n;
    double meanY = y[0] + sumY / n;
    double xx = 0;
    double xy = 0;
    for (int i = 0; i < n; i++) {
      double dx = x[i] - meanX;
      xx += dx * dx;
      xy += dx * (y[i] - meanY);
    }
    double slope = xx > 0 ? xy / xx : 0;
    return new LineFitOverTime(n, residuals(x, y, new double[] {meanX, meanY, slope}));
  }

  private static Residuals residuals(double[] x, double[] y, double[] line) {
    double meanX = line[0];
    double meanY = line[1];
    double slope = line[2];
    double squares = 0;
    double lagged = 0;
    double low = 0;
    double high = 0;
    double before = 0;
    for (int i = 0; i < y.length; i++) {
      double r = y[i] - meanY - slope * (x[i] - meanX);
      squares += r * r;
      lagged += r * before;
      if (r < low) {
        low = r;
      } else if (r > high) {
        high = r;
      }
      before = r;
    }
    return new Residuals(squares, lagged, high - low);
  }

  /** The standard deviation of the residuals, with n - 2 degrees of freedom. */
  double scatter() {
    return n > 2 ? Math.sqrt(residuals.squares() / (n - 2)) : 0;
  }

  int size() {
    return n;
  }

  /** The largest residual less the least; they lie on both sides of zero. */
  double range() {
    return residuals.range();
  }

  /** Of successive residuals, corrected for the two coefficients, 0 to 0.98; 0 below 100 points. */
  double correlation() {
    if (n < LEAST_FOR_CORRELATION || !(residuals.squares() > 0)) {
      return 0;
    }
    double observed = residuals.lagged() / residuals.squares();
    double corrected = observed + (2 + 4 * Math.max(0, observed)) / n;
    // What chance alone gives white errors in one case of forty is no correlation.
    return corrected < 2 / Math.sqrt(n) ? 0 : Math.min(0.98, corrected);
  }
}
