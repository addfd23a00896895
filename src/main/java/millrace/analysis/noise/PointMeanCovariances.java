// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.nio.DoubleBuffer;
import java.util.List;

/**
 * The covariance of points' means under each kernel: the mean of the kernel over all pairs of their
 * readings (methods.md 2.1: w is spread evenly over each point's readings). Points far from one
 * another count by their middles. Immutable and thread-safe.
 */
final class PointMeanCovariances {
  /** How many lengths apart points are far. */
  private static final double FAR = 4;

  private final double[][][] byKernel;

  private PointMeanCovariances(double[][][] byKernel) {
    this.byKernel = byKernel;
  }

  /** When the readings of a point were taken, in reading intervals. */
  @SuppressWarnings("ArrayRecordComponent") // read inside one fit, never compared or kept
  private record Stay(double[] times, double from, double to, double middle) {
    static Stay of(PointReadings point, double intervalS) {
      double[] times = point.timesS();
      double sum = 0;
      for (int i = 0; i < times.length; i++) {
        times[i] /= intervalS;
        sum += times[i];
      }
      return new Stay(times, times[0], times[times.length - 1], sum / times.length);
    }

    boolean isFar(Stay other) {
      double gap = Math.max(from - other.to, other.from - to);
      return gap > FAR * (to - from + other.to - other.from);
    }
  }

  private static final RecentByTimes<Key, PointMeanCovariances> RECENT = new RecentByTimes<>();

  /** All that they depend on. */
  private record Key(List<NoiseCovarianceKernel> kernels, List<DoubleBuffer> times) {}

  /** Of points, times over a reading interval, s. */
  static PointMeanCovariances of(
      List<NoiseCovarianceKernel> kernels, List<PointReadings> points, double intervalS) {
    List<Stay> stays = points.stream().map(p -> Stay.of(p, intervalS)).toList();
    List<DoubleBuffer> times = stays.stream().map(s -> DoubleBuffer.wrap(s.times())).toList();
    long size = (long) stays.size() * stays.size() * kernels.size();
    return RECENT.of(new Key(List.copyOf(kernels), times), size, () -> of(kernels, stays));
  }

  private static PointMeanCovariances of(List<NoiseCovarianceKernel> kernels, List<Stay> stays) {
    int n = stays.size();
    double[][][] all = new double[kernels.size()][n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        for (int a = 0; a < all.length; a++) {
          all[a][i][j] = between(kernels.get(a), stays.get(i), stays.get(j), i == j);
          all[a][j][i] = all[a][i][j];
        }
      }
    }
    return new PointMeanCovariances(all);
  }

  private static double between(NoiseCovarianceKernel kernel, Stay a, Stay b, boolean same) {
    if (kernel.kind() == NoiseCovarianceKernel.Kind.WHITE) {
      return same ? 1.0 / a.times().length : 0;
    } else if (!same && a.isFar(b)) {
      return kernel.at(Math.abs(a.middle() - b.middle()));
    }
    double sum = 0;
    for (double t : a.times()) {
      for (double s : b.times()) {
        sum += kernel.at(Math.abs(t - s));
      }
    }
    return sum / a.times().length / b.times().length;
  }

  /** w'Kw of a kernel. */
  double quadratic(int kernel, double[] w) {
    double[][] k = byKernel[kernel];
    double sum = 0;
    for (int i = 0; i < w.length; i++) {
      if (w[i] == 0) {
        continue;
      }
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
