// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import millrace.analysis.regression.LinearFit;

/**
 * The largest deviation from a straight line, by four ways to draw the line (terms of ISA-51.1-1979
 * (R1993) and IEC 61298-2:2008, from memory; methods.md 4.1). Exact, without iteration to a
 * tolerance; immutable and thread-safe.
 */
public final class LinearityDeviation {
  private final double intercept;
  private final double slope;
  private final double largest;
  private final double[] weights;

  private LinearityDeviation(double intercept, double slope, double largest, double[] weights) {
    this.intercept = intercept;
    this.slope = slope;
    this.largest = largest;
    this.weights = weights;
  }

  /**
   * The line at x = 0.
   *
   * @return in the unit of y
   */
  public double intercept() {
    return intercept;
  }

  /**
   * The slope of the line.
   *
   * @return y over x
   */
  public double slope() {
    return slope;
  }

  /**
   * The largest deviation from the line.
   *
   * @return 0 or more, in the unit of y
   */
  public double largest() {
    return largest;
  }

  /**
   * The weights by which the largest deviation is the sum of the y.
   *
   * @return a copy, one per point in the order given
   */
  public double[] weights() {
    return weights.clone();
  }

  /**
   * Independent: from the line that makes the largest deviation smallest. The best slope is that of
   * an edge of the convex hull, the deviation half the hull's height there (Chebyshev; methods.md
   * 4.1).
   *
   * @param x in strictly rising order, at least three
   * @param y as many
   * @return the deviation
   */
  public static LinearityDeviation independent(double[] x, double[] y) {
    int[] upper = hull(x, y, 1);
    int[] lower = hull(x, y, -1);
    double best = Double.POSITIVE_INFINITY;
    int[] active = {0, 1, 2};
    for (int[][] sides : new int[][][] {{upper, lower}, {lower, upper}}) {
      int opposite = sides[1].length - 1;
      for (int e = 0; e + 1 < sides[0].length; e++) {
        int a = sides[0][e];
        int c = sides[0][e + 1];
        opposite = farthest(x, y, sides[1], opposite, new int[] {a, c});
        int b = sides[1][opposite];
        double height = Math.abs(above(x, y, a, b, c));
        if (height < best && x[b] >= x[a] && x[b] <= x[c]) {
          best = height;
          active = new int[] {a, b, c};
        }
      }
    }
    return between(x, y, active);
  }

  /** y of b above the line through a and c. */
  private static double above(double[] x, double[] y, int a, int b, int c) {
    double share = (x[b] - x[a]) / (x[c] - x[a]);
    return (y[b] - y[a]) - share * (y[c] - y[a]);
  }

  /** The vertex farthest from the edge; as edges turn, vertices pass by from right to left. */
  private static int farthest(double[] x, double[] y, int[] side, int from, int[] edge) {
    int at = from;
    while (at > 0
        && Math.abs(above(x, y, edge[0], side[at - 1], edge[1]))
            >= Math.abs(above(x, y, edge[0], side[at], edge[1]))) {
      at--;
    }
    return at;
  }

  /** The line half-way between the edge a to c and the point b. */
  private static LinearityDeviation between(double[] x, double[] y, int[] active) {
    int a = active[0];
    int b = active[1];
    int c = active[2];
    double signed = above(x, y, a, b, c);
    double share = (x[b] - x[a]) / (x[c] - x[a]);
    double sign = signed < 0 ? -0.5 : 0.5;
    double[] weights = new double[x.length];
    weights[b] += sign;
    weights[a] -= sign * (1 - share);
    weights[c] -= sign * share;
    double slope = (y[c] - y[a]) / (x[c] - x[a]);
    double intercept = y[a] - slope * x[a] + signed / 2;
    return new LinearityDeviation(intercept, slope, Math.abs(signed) / 2, weights);
  }

  /** Vertices of the upper (side 1) or lower (side -1) hull, from left to right. */
  private static int[] hull(double[] x, double[] y, int side) {
    List<Integer> vertices = new ArrayList<>();
    for (int i = 0; i < x.length; i++) {
      while (vertices.size() > 1) {
        int a = vertices.get(vertices.size() - 2);
        int b = vertices.get(vertices.size() - 1);
        if (side * above(x, y, a, b, i) > 0) {
          break;
        }
        vertices.remove(vertices.size() - 1);
      }
      vertices.add(i);
    }
    return vertices.stream().mapToInt(Integer::intValue).toArray();
  }

  /**
   * Terminal-based: from the line through both end points (methods.md 4.1).
   *
   * @param x in strictly rising order, at least three
   * @param y as many
   * @return the deviation
   */
  public static LinearityDeviation terminal(double[] x, double[] y) {
    int last = x.length - 1;
    int worst = 1;
    for (int i = 1; i < last; i++) {
      boolean worse = Math.abs(above(x, y, 0, i, last)) > Math.abs(above(x, y, 0, worst, last));
      worst = worse ? i : worst;
    }
    double signed = above(x, y, 0, worst, last);
    double share = (x[worst] - x[0]) / (x[last] - x[0]);
    double sign = signed < 0 ? -1 : 1;
    double[] weights = new double[x.length];
    weights[worst] = sign;
    weights[0] = -sign * (1 - share);
    weights[last] = -sign * share;
    double slope = (y[last] - y[0]) / (x[last] - x[0]);
    return new LinearityDeviation(y[0] - slope * x[0], slope, Math.abs(signed), weights);
  }

  /**
   * Zero-based: from the line through the first point whose slope makes the largest deviation
   * smallest. Two points of opposite deviation fix that slope; they are exchanged for points of
   * larger deviation until none is left (methods.md 4.1).
   *
   * @param x in strictly rising order, at least three
   * @param y as many
   * @return the deviation
   */
  public static LinearityDeviation zeroBased(double[] x, double[] y) {
    int i = 1;
    int j = 2;
    double height = -1;
    double slope = 0;
    while (true) {
      double ti = x[i] - x[0];
      double tj = x[j] - x[0];
      double next = ((y[i] - y[0]) + (y[j] - y[0])) / (ti + tj);
      double found = Math.abs(((y[i] - y[0]) * tj - (y[j] - y[0]) * ti) / (ti + tj));
      if (!(found > height)) {
        return throughFirst(x, y, slope, height);
      }
      height = found;
      slope = next;
      i = worst(x, y, slope, 1);
      j = worst(x, y, slope, -1);
    }
  }

  private static int worst(double[] x, double[] y, double slope, int sign) {
    int worst = 1;
    for (int k = 2; k < x.length; k++) {
      worst = sign * (rest(x, y, slope, k) - rest(x, y, slope, worst)) > 0 ? k : worst;
    }
    return worst;
  }

  private static double rest(double[] x, double[] y, double slope, int k) {
    return (y[k] - y[0]) - slope * (x[k] - x[0]);
  }

  private static LinearityDeviation throughFirst(
      double[] x, double[] y, double slope, double height) {
    int i = worst(x, y, slope, 1);
    int j = worst(x, y, slope, -1);
    double ti = x[i] - x[0];
    double tj = x[j] - x[0];
    double[] weights = new double[x.length];
    weights[i] += tj / (ti + tj);
    weights[j] -= ti / (ti + tj);
    weights[0] += (ti - tj) / (ti + tj);
    return new LinearityDeviation(y[0] - slope * x[0], slope, height, weights);
  }

  /**
   * The largest residual of the least-squares line (methods.md 4.1).
   *
   * @param x in strictly rising order, at least three
   * @param y as many
   * @return the deviation
   */
  public static LinearityDeviation leastSquares(double[] x, double[] y) {
    int n = x.length;
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    double[] away = Arrays.stream(x).map(v -> v - x[0]).toArray();
    LinearFit fit = LinearFit.of(new double[][] {ones, away}, y, ones);
    double[] residuals = fit.residuals();
    int worst = 0;
    for (int i = 1; i < n; i++) {
      worst = Math.abs(residuals[i]) > Math.abs(residuals[worst]) ? i : worst;
    }
    double sign = residuals[worst] < 0 ? -1 : 1;
    double[] level = fit.estimator(0);
    double[] weights = fit.estimator(1);
    for (int i = 0; i < n; i++) {
      weights[i] = -sign * (level[i] + away[worst] * weights[i]);
    }
    weights[worst] += sign;
    double slope = fit.coefficient(1);
    return new LinearityDeviation(
        fit.coefficient(0) - slope * x[0], slope, Math.abs(residuals[worst]), weights);
  }
}
