package millrace.analysis.series;

import java.util.Arrays;

/**
 * The least-squares line over many points, by centred sums, with the lag-1 autocorrelation of its
 * residuals (measurement.md 2.1, 6.3).
 */
final class Line {
  private static final int LEAST_FOR_CORRELATION = 100;

  private final double slope;
  private final double u;
  private final double[] residuals;
  private final double correlation;

  private Line(double slope, double u, double[] residuals, double correlation) {
    this.slope = slope;
    this.u = u;
    this.residuals = residuals;
    this.correlation = correlation;
  }

  static Line of(double[] x, double[] y) {
    int n = y.length;
    double meanX = 0;
    double meanY = 0;
    for (int i = 0; i < n; i++) {
      meanX += (x[i] - meanX) / (i + 1);
      meanY += (y[i] - meanY) / (i + 1);
    }
    double xx = 0;
    double xy = 0;
    for (int i = 0; i < n; i++) {
      xx += (x[i] - meanX) * (x[i] - meanX);
      xy += (x[i] - meanX) * (y[i] - meanY);
    }
    double slope = xx > 0 ? xy / xx : 0;
    double[] residuals = new double[n];
    for (int i = 0; i < n; i++) {
      residuals[i] = y[i] - meanY - slope * (x[i] - meanX);
    }
    double squares = squares(residuals, 0);
    double u = xx > 0 && n > 2 ? Math.sqrt(squares / (n - 2) / xx) : 0;
    return new Line(slope, u, residuals, correlation(squares(residuals, 1), squares, n));
  }

  private static double squares(double[] values, int lag) {
    double sum = 0;
    for (int i = lag; i < values.length; i++) {
      sum += values[i] * values[i - lag];
    }
    return sum;
  }

  private static double correlation(double lagged, double squares, int n) {
    if (n < LEAST_FOR_CORRELATION || !(squares > 0)) {
      return 0;
    }
    double observed = lagged / squares;
    double corrected = observed + (2 + 4 * Math.max(0, observed)) / n;
    // What chance alone gives white errors in one case of forty is no correlation.
    return corrected < 2 / Math.sqrt(n) ? 0 : Math.min(0.98, corrected);
  }

  /** The standard deviation of the residuals, with n - 2 degrees of freedom. */
  double scatter() {
    return residuals.length > 2 ? Math.sqrt(squares(residuals, 0) / (residuals.length - 2)) : 0;
  }

  /** y per x; 0 if all x are equal. */
  double slope() {
    return slope;
  }

  /** The standard uncertainty of the slope with white errors. */
  double u() {
    return u;
  }

  int size() {
    return residuals.length;
  }

  /** The largest residual less the least. */
  double range() {
    return Arrays.stream(residuals).max().orElse(0) - Arrays.stream(residuals).min().orElse(0);
  }

  /** Of successive residuals, corrected for the two coefficients, 0 to 0.98; 0 below 100 points. */
  double correlation() {
    return correlation;
  }
}
