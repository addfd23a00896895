// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Arrays;

/**
 * A weighted design made orthogonal, A = Q R with the columns of Q orthogonal but not of unit
 * length and R unit upper triangular, by modified Gram-Schmidt (Bjorck, Numerical Methods for Least
 * Squares Problems, SIAM 1996, 2.4.4 and 2.4.5, from memory; methods.md 3.1). The whole is done
 * twice, which is enough for columns that nearly vanish when their forerunners are taken out of
 * them (2.4.7). Rows are taken block by block, each small enough for the processor's nearest
 * memory, so that a million of them are read once per column and not once per operation.
 *
 * <p>Immutable once made, and thread-safe.
 */
final class GramSchmidtFactorization {
  private static final int BLOCK = 512;

  /** Of a column of unit length, what its forerunners do not explain must exceed this. */
  private static final double LEAST_INDEPENDENCE = 1e-12;

  /** Squares that neither overflow nor vanish when they are added up. */
  private static final double MOST_SQUARE = 1e200;

  private final double[] weights;
  private final double[] scale;
  private final double[][] q;
  private final double[][] r;
  private final double[] squares;

  private GramSchmidtFactorization(double[] weights, double... scale) {
    int p = scale.length;
    this.weights = weights;
    this.scale = scale;
    this.q = new double[p][weights.length];
    this.r = new double[p][p];
    this.squares = new double[p];
  }

  /**
   * Makes a design orthogonal.
   *
   * @param columns the columns of the design, of equal length
   * @param u the standard uncertainty of each row, above 0
   * @throws IllegalArgumentException if the columns are linearly dependent
   */
  static GramSchmidtFactorization of(double[][] columns, double[] u) {
    double[] weights = weights(u);
    double[] plain = new double[columns.length];
    Arrays.fill(plain, 1);
    GramSchmidtFactorization first = new GramSchmidtFactorization(weights, plain);
    if (first.built(columns)) {
      return first.factored();
    }
    GramSchmidtFactorization scaled =
        new GramSchmidtFactorization(weights, scales(columns, weights));
    scaled.built(columns);
    return scaled.factored();
  }

  /** Relative to the first row: only their ratios count, and none is large by itself. */
  private static double[] weights(double[] u) {
    double[] weights = new double[u.length];
    double first = u.length == 0 ? 1 : u[0];
    for (int i = 0; i < u.length; i++) {
      weights[i] = first / u[i];
    }
    return weights;
  }

  /** Powers of two that bring the largest part of each column near 1. */
  private static double[] scales(double[][] columns, double[] weights) {
    double[] scales = new double[columns.length];
    for (int j = 0; j < scales.length; j++) {
      double largest = 0;
      for (int i = 0; i < weights.length; i++) {
        largest = Math.max(largest, Math.abs(columns[j][i]) * weights[i]);
      }
      if (!(largest > 0)) {
        throw new IllegalArgumentException("a column of the design is zero");
      }
      scales[j] = Math.scalb(1.0, -Math.getExponent(largest));
    }
    return scales;
  }

  /** The weighted columns as they come; false where their squares cannot be added up. */
  private boolean built(double[][] columns) {
    double[] lengths = new double[q.length];
    for (int from = 0; from < weights.length; from += BLOCK) {
      int to = Math.min(from + BLOCK, weights.length);
      for (int j = 0; j < q.length; j++) {
        weigh(q[j], columns[j], scale[j], from, to);
        lengths[j] += dot(q[j], from, q[j], from, to - from);
      }
      project(0, from, to);
    }
    System.arraycopy(lengths, 0, squares, 0, lengths.length);
    return Arrays.stream(lengths).allMatch(s -> s < MOST_SQUARE && s > 1 / MOST_SQUARE);
  }

  private void weigh(double[] into, double[] column, double by, int from, int to) {
    for (int i = from; i < to; i++) {
      into[i] = column[i] * by * weights[i];
    }
  }

  /** What of a finished column is in those behind it, in one block. */
  private void project(int k, int from, int to) {
    for (int j = k + 1; j < q.length; j++) {
      r[k][j] += dot(q[k], from, q[j], from, to - from);
    }
  }

  private GramSchmidtFactorization factored() {
    double[] lengths = squares.clone();
    sweep();
    for (int k = 0; k < q.length; k++) {
      if (!(squares[k] > LEAST_INDEPENDENCE * LEAST_INDEPENDENCE * lengths[k])) {
        throw new IllegalArgumentException("the columns of the design are linearly dependent");
      }
    }
    again();
    return this;
  }

  /** One round: column after column is taken out of those behind it. */
  private void sweep() {
    for (int k = 1; k < q.length; k++) {
      divide(k - 1);
      double square = 0;
      for (int from = 0; from < weights.length; from += BLOCK) {
        int to = Math.min(from + BLOCK, weights.length);
        for (int j = k; j < q.length; j++) {
          subtract(q[j], q[k - 1], r[k - 1][j], from, to);
        }
        square += dot(q[k], from, q[k], from, to - from);
        project(k, from, to);
      }
      squares[k] = square;
    }
  }

  private void divide(int k) {
    for (int j = k + 1; j < q.length; j++) {
      r[k][j] /= squares[k];
    }
  }

  /** The second round; R is the product of both. */
  private void again() {
    int p = q.length;
    double[][] first = new double[p][];
    for (int k = 0; k < p; k++) {
      first[k] = r[k].clone();
      Arrays.fill(r[k], 0);
    }
    for (int from = 0; from < weights.length; from += BLOCK) {
      project(0, from, Math.min(from + BLOCK, weights.length));
    }
    sweep();
    for (int k = 0; k < p; k++) {
      for (int j = p - 1; j > k; j--) {
        double sum = first[k][j] + r[k][j];
        for (int m = k + 1; m < j; m++) {
          sum += r[k][m] * first[m][j];
        }
        r[k][j] = sum;
      }
    }
  }

  /** What of a block is in each column; returns the sum of its weighted squares. */
  private double add(double[] sums, double[] y, double[] weighted, int from, int to) {
    for (int i = from; i < to; i++) {
      weighted[i - from] = y[i] * weights[i];
    }
    for (int k = 0; k < sums.length; k++) {
      sums[k] += dot(q[k], from, weighted, 0, to - from);
    }
    return dot(weighted, 0, weighted, 0, to - from);
  }

  private double[] solved(double[] sums) {
    int p = sums.length;
    double[] b = new double[p];
    for (int j = p - 1; j >= 0; j--) {
      b[j] = sums[j] / squares[j];
      for (int k = j + 1; k < p; k++) {
        b[j] -= r[j][k] * b[k];
      }
    }
    for (int j = 0; j < p; j++) {
      b[j] *= scale[j];
    }
    return b;
  }

  /** What coefficients leave unexplained. */
  static final class Rest {
    private final double[] residuals;
    private final double weightedSquares;
    private final double[] change;
    private final double changedSquares;

    private Rest(
        double[] residuals, double weightedSquares, double[] change, double changedSquares) {
      this.residuals = residuals;
      this.weightedSquares = weightedSquares;
      this.change = change;
      this.changedSquares = changedSquares;
    }

    /** Each row's rest; not a copy. */
    double[] residuals() {
      return residuals;
    }

    /** The sum of their squares, each times (u of the first row/own u)^2. */
    double weightedSquares() {
      return weightedSquares;
    }

    /** What would have to be added to the coefficients; not a copy. */
    double[] change() {
      return change;
    }

    /** By how much that would lessen the sum of squares. */
    double changedSquares() {
      return changedSquares;
    }
  }

  /** What some coefficients of the design leave. */
  Rest rest(double[][] columns, double[] y, double[] b) {
    double[] residuals = new double[y.length];
    double[] sums = new double[q.length];
    double[] weighted = new double[Math.min(BLOCK, y.length)];
    double squared = 0;
    for (int from = 0; from < y.length; from += BLOCK) {
      int to = Math.min(from + BLOCK, y.length);
      System.arraycopy(y, from, residuals, from, to - from);
      for (int j = 0; j < b.length; j++) {
        subtract(residuals, columns[j], b[j], from, to);
      }
      squared += add(sums, residuals, weighted, from, to);
    }
    return rest(residuals, squared, sums);
  }

  /** What is left before anything is explained: all of it. */
  Rest rest(double[] y) {
    double[] sums = new double[q.length];
    double[] weighted = new double[Math.min(BLOCK, y.length)];
    double squared = 0;
    for (int from = 0; from < y.length; from += BLOCK) {
      squared += add(sums, y, weighted, from, Math.min(from + BLOCK, y.length));
    }
    return rest(y, squared, sums);
  }

  private Rest rest(double[] residuals, double squared, double... sums) {
    double explained = 0;
    for (int k = 0; k < sums.length; k++) {
      explained += sums[k] / squares[k] * sums[k];
    }
    return new Rest(residuals, squared, solved(sums), explained);
  }

  /** The weights by which a coefficient is the sum of the rows: a row of R^-1 (Q^T Q)^-1 Q^T. */
  double[] estimator(int j) {
    int p = q.length;
    double[] row = new double[p];
    row[j] = 1;
    for (int k = j + 1; k < p; k++) {
      for (int m = j; m < k; m++) {
        row[k] -= row[m] * r[m][k];
      }
    }
    double[] estimator = new double[weights.length];
    for (int k = j; k < p; k++) {
      subtract(estimator, q[k], -row[k] / squares[k], 0, estimator.length);
    }
    for (int i = 0; i < estimator.length; i++) {
      estimator[i] *= weights[i] * scale[j];
    }
    return estimator;
  }

  /** Four sums side by side, which a processor adds up at once. */
  private static double dot(double[] a, int inA, double[] b, int inB, int length) {
    double s0 = 0;
    double s1 = 0;
    double s2 = 0;
    double s3 = 0;
    int i = 0;
    for (; i < length - 3; i += 4) {
      s0 += a[inA + i] * b[inB + i];
      s1 += a[inA + i + 1] * b[inB + i + 1];
      s2 += a[inA + i + 2] * b[inB + i + 2];
      s3 += a[inA + i + 3] * b[inB + i + 3];
    }
    for (; i < length; i++) {
      s0 += a[inA + i] * b[inB + i];
    }
    return (s0 + s1) + (s2 + s3);
  }

  private static void subtract(double[] from, double[] what, double times, int begin, int end) {
    for (int i = begin; i < end; i++) {
      from[i] -= times * what[i];
    }
  }
}
