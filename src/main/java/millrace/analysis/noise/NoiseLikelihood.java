// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.nio.DoubleBuffer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.exception.MaxCountExceededException;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.SingularValueDecomposition;

/**
 * What readings at any times tell of each law once some columns are free: ln L = -(ln det C'KC + d
 * ln RSS)/2, RSS = y'C(C'KC)^-1 C'y, C an orthonormal basis of what the columns leave (methods.md
 * 2.1). White noise with any amount of flicker noise or random walk shares one eigenbasis; an
 * autoregression is whitened reading by reading, ln det C'KC = ln det K + ln det Q'K^-1 Q with Q an
 * orthonormal basis of the columns. Pure; thread-safe.
 */
final class NoiseLikelihood {
  private static final double DEPENDENT = 1e-8;
  private static final double SHORTEST = 1e-3;

  private final double[] times;
  private final double[] values;
  private final List<double[]> free;

  private NoiseLikelihood(double[] times, double[] values, List<double[]> free) {
    this.times = times;
    this.values = values;
    this.free = free;
  }

  /**
   * Readings and what is free of them.
   *
   * @param times in reading intervals, rising
   * @param values the readings
   * @param columns what is free; dependent ones are left out
   */
  static NoiseLikelihood of(double[] times, double[] values, List<double[]> columns) {
    List<double[]> free = new ArrayList<>();
    for (double[] column : columns) {
      double[] left = column.clone();
      double before = norm(left);
      takeOff(left, free);
      double after = norm(left);
      if (after > DEPENDENT * before && free.size() < values.length) {
        free.add(scaled(left, 1 / after));
      }
    }
    return new NoiseLikelihood(times, ReadingIntervals.centred(values), free);
  }

  /** Twice, so that rounding leaves them orthogonal. */
  private static void takeOff(double[] x, List<double[]> basis) {
    for (int pass = 0; pass < 2; pass++) {
      for (double[] b : basis) {
        double dot = dot(x, b);
        for (int i = 0; i < x.length; i++) {
          x[i] -= dot * b[i];
        }
      }
    }
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  private static double norm(double[] a) {
    return Math.sqrt(dot(a, a));
  }

  private static double[] scaled(double[] a, double factor) {
    return Arrays.stream(a).map(v -> v * factor).toArray();
  }

  int degrees() {
    return values.length - free.size();
  }

  /** The evidence of the readings for each law. */
  LawEvidence evidence(NoiseLaws laws) {
    int d = degrees();
    if (d < 1) {
      return LawEvidence.nothing(laws.size());
    }
    double[] squares = new double[laws.size()];
    double[] determinants = new double[laws.size()];
    double[][] bases = new double[laws.kernels().size()][];
    double[][] heights = new double[laws.kernels().size()][];
    List<DoubleBuffer> columns = free.stream().map(DoubleBuffer::wrap).toList();
    RealMatrix c =
        columns.isEmpty()
            ? basis()
            : LEFT.of(columns, (long) values.length * values.length, this::basis);
    for (int i = 0; i < squares.length; i++) {
      NoiseCovarianceKernel kernel = laws.kernels().get(laws.kernel(i));
      if (kernel.kind() == NoiseCovarianceKernel.Kind.AUTOREGRESSION) {
        double[] both = whitened(kernel.correlation());
        squares[i] = both[0];
        determinants[i] = both[1];
        continue;
      }
      int k = laws.kernel(i);
      if (bases[k] == null) {
        double[][] found = kernel.needsContrast() ? eigen(c, kernel) : plain(c);
        bases[k] = found[0];
        heights[k] = found[1];
      }
      for (int j = 0; j < d; j++) {
        double v = laws.white(i) + laws.amount(i) * bases[k][j];
        squares[i] += heights[k][j] * heights[k][j] / v;
        determinants[i] += Math.log(v);
      }
    }
    return new LawEvidence(squares, determinants, d);
  }

  private RealMatrix basis() {
    int n = values.length;
    int p = free.size();
    if (p == 0) {
      double[][] one = new double[n][n];
      for (int i = 0; i < n; i++) {
        one[i][i] = 1;
      }
      return new Array2DRowRealMatrix(one, false);
    }
    double[][] x = new double[n][p];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < p; j++) {
        x[i][j] = free.get(j)[i];
      }
    }
    RealMatrix q = new QRDecomposition(new Array2DRowRealMatrix(x, false)).getQ();
    return q.getSubMatrix(0, n - 1, p, n - 1);
  }

  private double[][] plain(RealMatrix c) {
    return new double[][] {new double[c.getColumnDimension()], c.preMultiply(values)};
  }

  private static final RecentByTimes<Key, Eigenbasis> RECENT = new RecentByTimes<>();
  private static final RecentByTimes<List<DoubleBuffer>, RealMatrix> LEFT = new RecentByTimes<>();

  /** All that an eigenbasis depends on. */
  private record Key(NoiseCovarianceKernel kernel, DoubleBuffer times, List<DoubleBuffer> free) {}

  @SuppressWarnings("ArrayRecordComponent") // read inside one fit, never changed
  private record Eigenbasis(double[] values, RealMatrix vectors) {}

  /** Eigenvalues of C'KC, and the readings in its eigenbasis. */
  private double[][] eigen(RealMatrix c, NoiseCovarianceKernel kernel) {
    List<DoubleBuffer> columns = free.stream().map(DoubleBuffer::wrap).toList();
    Eigenbasis basis =
        RECENT.of(
            new Key(kernel, DoubleBuffer.wrap(times), columns),
            (long) times.length * times.length,
            () -> eigenbasis(c, kernel));
    return new double[][] {basis.values(), basis.vectors().preMultiply(c.preMultiply(values))};
  }

  private Eigenbasis eigenbasis(RealMatrix c, NoiseCovarianceKernel kernel) {
    int n = times.length;
    double[][] k = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        k[i][j] = kernel.at(times[i] - times[j]);
        k[j][i] = k[i][j];
      }
    }
    RealMatrix inside = c.transpose().multiply(new Array2DRowRealMatrix(k, false)).multiply(c);
    RealMatrix even = inside.add(inside.transpose()).scalarMultiply(0.5);
    try {
      EigenDecomposition e = new EigenDecomposition(even);
      return new Eigenbasis(floored(e.getRealEigenvalues()), e.getV());
    } catch (MaxCountExceededException slow) {
      // The iteration of the library does not end for some groups of equal eigenvalues. The matrix
      // is positive semidefinite, so its singular values are its eigenvalues.
      SingularValueDecomposition s = new SingularValueDecomposition(even);
      return new Eigenbasis(floored(s.getSingularValues()), s.getV());
    }
  }

  private static double[] floored(double[] eigenvalues) {
    double least = Arrays.stream(eigenvalues).max().orElse(0) * 1e-12;
    return Arrays.stream(eigenvalues).map(e -> Math.max(e, least)).toArray();
  }

  /** RSS and ln det of an autoregression. */
  private double[] whitened(double r1) {
    int n = values.length;
    double ln = 0;
    double[] y = values.clone();
    List<double[]> q = new ArrayList<>();
    free.forEach(f -> q.add(f.clone()));
    for (int i = n - 1; i >= 0; i--) {
      double r = i == 0 ? 0 : Math.pow(r1, Math.max(SHORTEST, times[i] - times[i - 1]));
      double s = Math.sqrt(1 - r * r);
      ln += 2 * Math.log(s);
      y[i] = (y[i] - (i == 0 ? 0 : r * y[i - 1])) / s;
      for (double[] column : q) {
        column[i] = (column[i] - (i == 0 ? 0 : r * column[i - 1])) / s;
      }
    }
    List<double[]> orthonormal = new ArrayList<>();
    for (double[] column : q) {
      takeOff(column, orthonormal);
      double size = norm(column);
      ln += 2 * Math.log(size);
      orthonormal.add(scaled(column, 1 / size));
    }
    takeOff(y, orthonormal);
    return new double[] {dot(y, y), ln};
  }
}
