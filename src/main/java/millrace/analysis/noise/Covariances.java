package millrace.analysis.noise;

import java.util.List;

/**
 * The covariance of points' means under each kernel: the mean of the kernel over all pairs of their
 * readings (measurement.md 2.1: w is spread evenly over each point's readings). Points far from one
 * another count by their middles. Immutable and thread-safe.
 */
final class Covariances {
  /** How many lengths apart points are far. */
  private static final double FAR = 4;

  private final double[][][] byKernel;

  private Covariances(double[][][] byKernel) {
    this.byKernel = byKernel;
  }

  /** Of points, times over a reading interval, s. */
  static Covariances of(List<Kernel> kernels, List<PointReadings> points, double intervalS) {
    int n = points.size();
    double[][][] all = new double[kernels.size()][n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        for (int a = 0; a < all.length; a++) {
          all[a][i][j] = between(kernels.get(a), points.get(i), points.get(j), intervalS, i == j);
          all[a][j][i] = all[a][i][j];
        }
      }
    }
    return new Covariances(all);
  }

  private static double between(
      Kernel kernel, PointReadings a, PointReadings b, double stepS, boolean same) {
    if (kernel.kind() == Kernel.Kind.WHITE) {
      return same ? 1.0 / a.size() : 0;
    }
    double gap = Math.max(a.fromS() - b.toS(), b.fromS() - a.toS());
    double lengths = a.toS() - a.fromS() + b.toS() - b.fromS();
    if (!same && gap > FAR * lengths) {
      return kernel.at(Math.abs(a.middleS() - b.middleS()) / stepS);
    }
    double sum = 0;
    double[] other = b.timesS();
    for (double t : a.timesS()) {
      for (double s : other) {
        sum += kernel.at(Math.abs(t - s) / stepS);
      }
    }
    return sum / a.size() / b.size();
  }

  /** w'Kw of a kernel. */
  double quadratic(int kernel, double[] w) {
    double[][] k = byKernel[kernel];
    double sum = 0;
    for (int i = 0; i < w.length; i++) {
      double row = 0;
      for (int j = 0; j < w.length; j++) {
        row += k[i][j] * w[j];
      }
      sum += w[i] * row;
    }
    return sum;
  }

  double[][] of(int kernel) {
    return byKernel[kernel];
  }
}
