// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Arrays;

/**
 * Weighted sums over all points beyond each one, about the means, so that the sum of squares of a
 * line with a hinge at any place takes constant time. Immutable after construction; thread-safe.
 */
final class HingeSums {
  private static final double LEAST_DETERMINANT = 1e-13;

  private final double[] x;
  private final double originX;
  private final double originY;

  /** Sums from index i on: w, wx, wy, wxx, wxy, wyy. */
  private final double[][] from;

  /** The x in rising order. */
  HingeSums(double[] x, double[] y, double[] u) {
    this.x = x;
    double w = 0;
    double wx = 0;
    double wy = 0;
    for (int i = 0; i < x.length; i++) {
      double weight = 1 / (u[i] * u[i]);
      w += weight;
      wx += weight * (x[i] - x[0]);
      wy += weight * (y[i] - y[0]);
    }
    originX = x[0] + wx / w;
    originY = y[0] + wy / w;
    from = new double[x.length + 1][6];
    for (int i = x.length - 1; i >= 0; i--) {
      double weight = 1 / (u[i] * u[i]);
      double dx = x[i] - originX;
      double dy = y[i] - originY;
      double[] terms = {1, dx, dy, dx * dx, dx * dy, dy * dy};
      for (int k = 0; k < terms.length; k++) {
        from[i][k] = from[i + 1][k] + weight * terms[k];
      }
    }
  }

  /** Where the lines before and after a gap cross, drawn into the gap. */
  double crossing(double left, double right) {
    double[] beyond = from[firstFrom(right)];
    double[] before = new double[6];
    Arrays.setAll(before, k -> from[0][k] - beyond[k]);
    double[] a = line(before);
    double[] b = line(beyond);
    double at = originX + (a[0] - b[0]) / (b[1] - a[1]);
    return at > left && at < right ? at : left;
  }

  private int firstFrom(double at) {
    int low = 0;
    int high = x.length;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (x[middle] < at) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }

  private static double[] line(double[] s) {
    double sxx = s[3] - s[1] * s[1] / s[0];
    double slope = (s[4] - s[1] * s[2] / s[0]) / sxx;
    return new double[] {(s[2] - slope * s[1]) / s[0], slope};
  }

  /** Least weighted sum of squares with the hinge there. */
  double chiSquared(double hinge) {
    double[] all = from[0];
    double[] r = from[firstFrom(hinge)];
    double p = hinge - originX;
    double h = r[1] - p * r[0];
    double hx = r[3] - p * r[1];
    double hh = r[3] - 2 * p * r[1] + p * p * r[0];
    double hy = r[4] - p * r[2];
    double hhCentred = hh - h * h / all[0];
    double rest = all[5] - all[4] * all[4] / all[3];
    double across = hy - hx * all[4] / all[3];
    double own = hhCentred - hx * hx / all[3];
    return own > LEAST_DETERMINANT * hh ? rest - across * across / own : rest;
  }
}
