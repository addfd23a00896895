// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.List;

/**
 * A least-squares problem that grows column by column, by reflections (Golub and Van Loan, Matrix
 * Computations, 5.3, from memory; methods.md 11.2). Reflected columns are kept, so that the last
 * columns can be exchanged at little cost. Single-threaded.
 */
final class Householder {
  /** The part of a column orthogonal to the earlier ones must exceed this share of it. */
  private static final double LEAST_INDEPENDENCE = 1e-9;

  private final int rows;
  private final List<double[]> reflectors;
  private final List<double[]> r;

  /** The right-hand side, reflected by all columns so far. */
  private final double[] z;

  private boolean full = true;

  Householder(double[] z) {
    this.rows = z.length;
    this.z = z.clone();
    this.reflectors = new ArrayList<>();
    this.r = new ArrayList<>();
  }

  private Householder(Householder other) {
    this.rows = other.rows;
    this.z = other.z.clone();
    this.reflectors = new ArrayList<>(other.reflectors);
    this.r = new ArrayList<>(other.r);
    this.full = other.full;
  }

  /** An independent copy. */
  Householder copy() {
    return new Householder(this);
  }

  /** Adds a column. */
  void add(double[] column) {
    double[] a = column.clone();
    double whole = norm(a, 0);
    for (int k = 0; k < reflectors.size(); k++) {
      reflect(reflectors.get(k), k, a);
    }
    int k = reflectors.size();
    double left = norm(a, k);
    full &= left > LEAST_INDEPENDENCE * whole;
    double pivot = a[k] > 0 ? -left : left;
    double[] v = new double[rows];
    System.arraycopy(a, k, v, k, rows - k);
    v[k] -= pivot;
    double length = norm(v, k);
    for (int i = k; length > 0 && i < rows; i++) {
      v[i] /= length;
    }
    a[k] = pivot;
    reflectors.add(v);
    r.add(a);
    reflect(v, k, z);
  }

  /** Whether the columns are independent of one another. */
  boolean full() {
    return full;
  }

  private static double norm(double[] a, int from) {
    double sum = 0;
    for (int i = from; i < a.length; i++) {
      sum += a[i] * a[i];
    }
    return Math.sqrt(sum);
  }

  private static void reflect(double[] v, int from, double[] a) {
    double dot = 0;
    for (int i = from; i < a.length; i++) {
      dot += v[i] * a[i];
    }
    for (int i = from; i < a.length; i++) {
      a[i] -= 2 * dot * v[i];
    }
  }

  /** Residual sum of squares. */
  double residual() {
    double left = norm(z, r.size());
    return left * left;
  }

  /** ln det(A'A). */
  double logDeterminant() {
    double sum = 0;
    for (int k = 0; k < r.size(); k++) {
      sum += 2 * Math.log(Math.abs(r.get(k)[k]));
    }
    return sum;
  }

  /** The coefficients. */
  double[] solution() {
    return backward(z);
  }

  /** R^-1 of the head of a vector. */
  private double[] backward(double[] of) {
    int p = r.size();
    double[] x = new double[p];
    for (int i = p - 1; i >= 0; i--) {
      double sum = of[i];
      for (int j = i + 1; j < p; j++) {
        sum -= r.get(j)[i] * x[j];
      }
      x[i] = sum / r.get(i)[i];
    }
    return x;
  }

  /** R^-1, whose product with its transpose is the covariance of the coefficients. */
  double[][] inverse() {
    int p = r.size();
    double[][] inverse = new double[p][p];
    for (int k = 0; k < p; k++) {
      double[] unit = new double[p];
      unit[k] = 1;
      double[] column = backward(unit);
      for (int i = 0; i < p; i++) {
        inverse[i][k] = column[i];
      }
    }
    return inverse;
  }

  /** The first columns of Q: the sensitivity of the solution to each row. */
  double[][] orthogonal() {
    int p = r.size();
    double[][] q = new double[p][rows];
    for (int k = 0; k < p; k++) {
      q[k][k] = 1;
      for (int j = p - 1; j >= 0; j--) {
        reflect(reflectors.get(j), j, q[k]);
      }
    }
    return q;
  }
}
