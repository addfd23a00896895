// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Optional;

/**
 * A straight line where both axes carry independent errors: the unified equations of York, Evensen,
 * Lopez Martinez and De Basabe Delgado, Am. J. Phys. 72 (2004) 367, equations 13, with uncorrelated
 * errors (methods.md 3.1). Iterated to the last digits, up to a stated ceiling.
 *
 * @param slope b
 * @param intercept a, in the unit of y
 * @param slopeU standard uncertainty of the slope, unscaled
 * @param interceptU standard uncertainty of the intercept, unscaled
 * @param covariance of both
 * @param chiSquared weighted sum of squared distances, S
 * @param iterations how many were needed
 */
public record YorkLine(
    double slope,
    double intercept,
    double slopeU,
    double interceptU,
    double covariance,
    double chiSquared,
    int iterations) {

  private static final double STILL = 1e-15;

  /**
   * The points; arrays are read, never kept.
   *
   * @param x the x
   * @param y as many y
   * @param ux standard uncertainty of each x, 0 or more
   * @param uy standard uncertainty of each y, above 0
   */
  @SuppressWarnings("ArrayRecordComponent") // read once inside one call, never compared or kept
  public record Points(double[] x, double[] y, double[] ux, double[] uy) {
    /** Checks that there are as many of each. */
    public Points {
      int n = x.length;
      if (y.length != n || ux.length != n || uy.length != n || n < 2) {
        throw new IllegalArgumentException(
            "%s x, %s y, %s and %s uncertainties; expected as many of each, 2 or more"
                .formatted(n, y.length, ux.length, uy.length));
      }
    }

    private double weight(int i, double slope) {
      return 1 / (uy[i] * uy[i] + slope * slope * ux[i] * ux[i]);
    }
  }

  /** Weighted means and what the next slope follows from. */
  private record Step(double meanX, double meanY, double next) {}

  /**
   * Fits (methods.md 3.1).
   *
   * @param points at least two of different x
   * @param most ceiling of iterations, 1 or more
   * @return the line; empty where the x do not differ or the slope does not come to rest
   */
  public static Optional<YorkLine> of(Points points, int most) {
    double slope = step(points, 0).next();
    for (int iteration = 1; Double.isFinite(slope) && iteration <= most; iteration++) {
      double next = step(points, slope).next();
      if (Math.abs(next - slope) <= STILL * Math.abs(next)) {
        return Optional.of(finished(points, next, iteration));
      }
      slope = next;
    }
    return Optional.empty();
  }

  private static Step step(Points p, double slope) {
    double w = 0;
    double wx = 0;
    double wy = 0;
    for (int i = 0; i < p.x().length; i++) {
      double weight = p.weight(i, slope);
      w += weight;
      wx += weight * (p.x()[i] - p.x()[0]);
      wy += weight * (p.y()[i] - p.y()[0]);
    }
    double meanX = p.x()[0] + wx / w;
    double meanY = p.y()[0] + wy / w;
    double up = 0;
    double down = 0;
    for (int i = 0; i < p.x().length; i++) {
      double weight = p.weight(i, slope);
      double u = p.x()[i] - meanX;
      double v = p.y()[i] - meanY;
      double beta = beta(p, i, slope, u, v);
      up += weight * beta * v;
      down += weight * beta * u;
    }
    return new Step(meanX, meanY, up / down);
  }

  private static double beta(Points p, int i, double slope, double u, double v) {
    double ux2 = p.ux()[i] * p.ux()[i];
    double uy2 = p.uy()[i] * p.uy()[i];
    return p.weight(i, slope) * (u * uy2 + slope * v * ux2);
  }

  private static YorkLine finished(Points p, double slope, int iterations) {
    Step step = step(p, slope);
    double intercept = step.meanY() - slope * step.meanX();
    double w = 0;
    double wx = 0;
    double wxx = 0;
    double chi = 0;
    for (int i = 0; i < p.x().length; i++) {
      double weight = p.weight(i, slope);
      double u = p.x()[i] - step.meanX();
      double v = p.y()[i] - step.meanY();
      double adjusted = beta(p, i, slope, u, v);
      w += weight;
      wx += weight * adjusted;
      wxx += weight * adjusted * adjusted;
      chi += weight * Math.pow(v - slope * u, 2);
    }
    double mean = wx / w;
    double slopeVariance = 1 / (wxx - wx * mean);
    double x = step.meanX() + mean;
    return new YorkLine(
        slope,
        intercept,
        Math.sqrt(slopeVariance),
        Math.sqrt(1 / w + x * x * slopeVariance),
        -x * slopeVariance,
        chi,
        iterations);
  }
}
