// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.variance;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * Minus twice the logarithm of the restricted likelihood of y = m + sum of Z_f b_f + e, b_f of
 * standard deviation s_f and e of standard deviation s, as a function of the ratios s_f/s
 * (Patterson and Thompson, Biometrika 58 (1971) 545; in the form of Bates et al., J. Stat. Softw.
 * 67 (2015) 1, 3; methods.md 8.2): from the Cholesky factor of L'Z'Z L + 1, L the ratios. Works on
 * sums by level alone, so that it costs the cube of the number of levels, whatever the number of
 * values. Immutable.
 */
final class RestrictedLikelihood {
  private final int n;
  private final double scale;
  private final double mean;
  private final double sumOfSquares;
  private final int[] factorOf;
  private final double[][] counts;
  private final double[] ones;
  private final double[] sums;

  /**
   * Adds values up by level.
   *
   * @param values finite, not all equal, at least two
   * @param factors the level of each value from 0 on, for each factor
   */
  RestrictedLikelihood(double[] values, List<int[]> factors) {
    n = values.length;
    double average = 0;
    for (double value : values) {
      average += value / n;
    }
    mean = average;
    double squares = 0;
    for (double value : values) {
      squares += (value - average) * (value - average);
    }
    scale = Math.sqrt(squares / (n - 1));
    sumOfSquares = n - 1;
    factorOf = factorOf(factors);
    int levels = factorOf.length;
    counts = new double[levels][levels];
    ones = new double[levels];
    sums = new double[levels];
    for (int i = 0; i < n; i++) {
      add(factors, i, (values[i] - average) / scale);
    }
  }

  private static int[] factorOf(List<int[]> factors) {
    int[] sizes = factors.stream().mapToInt(RestrictedLikelihood::levels).toArray();
    int[] of = new int[Arrays.stream(sizes).sum()];
    int at = 0;
    for (int f = 0; f < sizes.length; f++) {
      Arrays.fill(of, at, at + sizes[f], f);
      at += sizes[f];
    }
    return of;
  }

  private static int levels(int[] factor) {
    return Arrays.stream(factor).max().orElse(-1) + 1;
  }

  private void add(List<int[]> factors, int i, double value) {
    int[] at = new int[factors.size()];
    int offset = 0;
    for (int f = 0; f < at.length; f++) {
      at[f] = offset + factors.get(f)[i];
      offset += levels(factors.get(f));
    }
    for (int row : at) {
      ones[row]++;
      sums[row] += value;
      for (int column : at) {
        counts[row][column]++;
      }
    }
  }

  /** What the ratios s_f/s give. */
  record Fit(double deviance, double logDeterminants, double residualSquares, double mean) {}

  /** The number of degrees of freedom. */
  int degreesOfFreedom() {
    return n - 1;
  }

  /** The size of a standard deviation of one, in the unit of the values. */
  double scale() {
    return scale;
  }

  /**
   * The fit for given ratios, with the residual standard deviation that fits best.
   *
   * @param ratios s_f/s of each factor, 0 or more
   * @return its deviance, for comparison with that of other ratios
   */
  Fit at(double[] ratios) {
    int levels = factorOf.length;
    RealMatrix a = new Array2DRowRealMatrix(levels, levels);
    double[] x = new double[levels];
    double[] y = new double[levels];
    for (int i = 0; i < levels; i++) {
      double ratio = ratios[factorOf[i]];
      x[i] = ratio * ones[i];
      y[i] = ratio * sums[i];
      for (int j = 0; j < levels; j++) {
        a.setEntry(i, j, ratio * counts[i][j] * ratios[factorOf[j]] + (i == j ? 1 : 0));
      }
    }
    RealMatrix l = new CholeskyDecomposition(a, 1e-9, 0).getL();
    forward(l, x);
    forward(l, y);
    double information = n - dot(x, x);
    double slope = -dot(x, y) / information; // the values sum up to zero
    double squares = sumOfSquares - dot(y, y) - slope * slope * information;
    double logs = Math.log(information);
    for (int i = 0; i < levels; i++) {
      logs += 2 * Math.log(l.getEntry(i, i));
    }
    double floor = Math.max(squares, Double.MIN_NORMAL);
    int df = degreesOfFreedom();
    double deviance = logs + df * (1 + Math.log(2 * Math.PI * floor / df));
    return new Fit(deviance, logs, floor, mean + scale * slope);
  }

  /**
   * The deviance for given standard deviations.
   *
   * @param sd of each factor, 0 or more, then of the residual, above 0; in units of {@link #scale}
   * @return for comparison with that of others
   */
  double deviance(double[] sd) {
    double residual = sd[sd.length - 1];
    double[] ratios = new double[sd.length - 1];
    for (int f = 0; f < ratios.length; f++) {
      ratios[f] = sd[f] / residual;
    }
    Fit fit = at(ratios);
    return fit.logDeterminants()
        + degreesOfFreedom() * Math.log(2 * Math.PI * residual * residual)
        + fit.residualSquares() / (residual * residual);
  }

  /**
   * What is left over of the condition for the best ratios: that b'b = s_f^2 (q - tr T) for the
   * effects b of the q levels of each factor, T the share of their variance that stays unknown
   * (Harville, J. Am. Stat. Assoc. 72 (1977) 320, section 5.2). It goes with the derivative of the
   * deviance.
   *
   * @param ratios s_f/s of each factor, 0 or more
   * @return for each factor (b'b / s_f^2 - q + tr T) s^2/s_f^2; 0 where the ratio is 0
   */
  double[] imbalance(double[] ratios) {
    int levels = factorOf.length;
    double[][] l = new CholeskyDecomposition(withMean(ratios), 1e-9, 0).getL().getData();
    double[][] inverse = inverse(l);
    double[] half = new double[levels + 1];
    double squares = sumOfSquares;
    for (int i = 0; i <= levels; i++) {
      for (int j = 0; j <= Math.min(i, levels - 1); j++) {
        half[i] += inverse[i][j] * ratios[factorOf[j]] * sums[j];
      }
      squares -= half[i] * half[i];
    }
    double variance = squares / degreesOfFreedom();
    double[] left = new double[ratios.length];
    for (int i = 0; i < levels; i++) {
      double effect = 0;
      double unknown = 0;
      for (int k = i; k <= levels; k++) {
        effect += inverse[k][i] * half[k];
        unknown += inverse[k][i] * inverse[k][i];
      }
      double ratio = ratios[factorOf[i]];
      left[factorOf[i]] +=
          ratio == 0 ? 0 : (effect * effect / variance - 1 + unknown) / (ratio * ratio);
    }
    return left;
  }

  /** The equations of effects and mean, effects in units of s_f. */
  private RealMatrix withMean(double[] ratios) {
    int levels = factorOf.length;
    RealMatrix a = new Array2DRowRealMatrix(levels + 1, levels + 1);
    for (int i = 0; i < levels; i++) {
      double ratio = ratios[factorOf[i]];
      for (int j = 0; j < levels; j++) {
        a.setEntry(i, j, ratio * counts[i][j] * ratios[factorOf[j]] + (i == j ? 1 : 0));
      }
      a.setEntry(i, levels, ratio * ones[i]);
      a.setEntry(levels, i, ratio * ones[i]);
    }
    a.setEntry(levels, levels, n);
    return a;
  }

  /** Of a lower triangle. */
  private static double[][] inverse(double[][] l) {
    int size = l.length;
    double[][] inverse = new double[size][size];
    for (int j = 0; j < size; j++) {
      inverse[j][j] = 1 / l[j][j];
      for (int i = j + 1; i < size; i++) {
        double sum = 0;
        for (int k = j; k < i; k++) {
          sum -= l[i][k] * inverse[k][j];
        }
        inverse[i][j] = sum / l[i][i];
      }
    }
    return inverse;
  }

  private static void forward(RealMatrix l, double[] b) {
    for (int i = 0; i < b.length; i++) {
      for (int j = 0; j < i; j++) {
        b[i] -= l.getEntry(i, j) * b[j];
      }
      b[i] /= l.getEntry(i, i);
    }
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }
}
