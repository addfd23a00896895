// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.List;

/**
 * w'Kw of each kernel, K at the times of the readings over their interval (methods.md 6.3b). Above
 * some hundred readings pairs are gathered by their lag first, to an eighth of an interval. Pure;
 * thread-safe.
 */
final class KernelQuadraticForms {
  private static final int EXACT = 200;
  private static final double FINE = 8;
  private static final int MOST_BINS = 1 << 20;

  private KernelQuadraticForms() {}

  /** Of weights at times in reading intervals, in the order of time. */
  static double[] of(List<NoiseCovarianceKernel> kernels, double[] times, double[] weights) {
    return times.length <= EXACT
        ? exact(kernels, times, weights)
        : gathered(kernels, times, weights);
  }

  private static double[] exact(List<NoiseCovarianceKernel> kernels, double[] t, double[] w) {
    double[] sums = new double[kernels.size()];
    for (int a = 0; a < sums.length; a++) {
      NoiseCovarianceKernel kernel = kernels.get(a);
      double own = kernel.at(0);
      for (int i = 0; i < t.length; i++) {
        sums[a] += w[i] * w[i] * own;
        for (int j = 0; kernel.kind() != NoiseCovarianceKernel.Kind.WHITE && j < i; j++) {
          sums[a] += 2 * w[i] * w[j] * kernel.at(t[i] - t[j]);
        }
      }
    }
    return sums;
  }

  private static double[] gathered(List<NoiseCovarianceKernel> kernels, double[] t, double[] w) {
    int n = t.length;
    double span = t[n - 1] - t[0];
    double bins = Math.min(FINE, MOST_BINS / Math.max(1, span));
    double[] pairs = new double[(int) (span * bins) + 2];
    double squares = 0;
    for (int i = 0; i < n; i++) {
      squares += w[i] * w[i];
      for (int j = 0; j < i; j++) {
        pairs[(int) ((t[i] - t[j]) * bins + 0.5)] += w[i] * w[j];
      }
    }
    double[] sums = new double[kernels.size()];
    for (int a = 0; a < sums.length; a++) {
      NoiseCovarianceKernel kernel = kernels.get(a);
      sums[a] = squares * kernel.at(0);
      for (int b = 0; kernel.kind() != NoiseCovarianceKernel.Kind.WHITE && b < pairs.length; b++) {
        if (pairs[b] != 0) {
          sums[a] += 2 * pairs[b] * kernel.at(b / bins);
        }
      }
    }
    return sums;
  }
}
