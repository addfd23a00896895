// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

/**
 * A weighted straight line that grows point by point in constant time. Sums are taken about the
 * first point, so that a slope of parts per million loses no digits. One thread at a time.
 */
final class IncrementalLineFit {
  private double x0;
  private double y0;
  private double w;
  private double wx;
  private double wy;
  private double wxx;
  private double wxy;
  private double wyy;
  private int n;

  void add(double x, double y, double u) {
    if (n == 0) {
      x0 = x;
      y0 = y;
    }
    double weight = 1 / (u * u);
    double dx = x - x0;
    double dy = y - y0;
    w += weight;
    wx += weight * dx;
    wy += weight * dy;
    wxx += weight * dx * dx;
    wxy += weight * dx * dy;
    wyy += weight * dy * dy;
    n++;
  }

  private double sxx() {
    return wxx - wx * wx / w;
  }

  double slope() {
    double sxx = sxx();
    return sxx > 0 ? (wxy - wx * wy / w) / sxx : 0;
  }

  double at(double x) {
    return y0 + wy / w + slope() * (x - x0 - wx / w);
  }

  /** Standard uncertainty of the line at x, in units of the weights' u. */
  double uncertaintyAt(double x) {
    double sxx = sxx();
    double away = x - x0 - wx / w;
    return Math.sqrt(1 / w + (sxx > 0 ? away * away / sxx : 0));
  }

  /** Residual standard deviation relative to the weights' u; 0 with two points or fewer. */
  double scatter() {
    double sxx = sxx();
    double sxy = wxy - wx * wy / w;
    double rest = wyy - wy * wy / w - (sxx > 0 ? sxy * sxy / sxx : 0);
    return n < 3 ? 0 : Math.sqrt(Math.max(0, rest) / (n - 2));
  }
}
