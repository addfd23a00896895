// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Arrays;

/** Times from reading to reading. Pure; thread-safe. */
final class ReadingIntervals {
  private ReadingIntervals() {}

  /** The median step of rising times; their mean step where most are equal. */
  static double median(double[] times) {
    if (times.length < 2) {
      return 0;
    }
    double[] steps = new double[times.length - 1];
    for (int i = 0; i < steps.length; i++) {
      steps[i] = times[i + 1] - times[i];
    }
    Arrays.sort(steps);
    double middle = (steps[(steps.length - 1) / 2] + steps[steps.length / 2]) / 2;
    return middle > 0 ? middle : (times[times.length - 1] - times[0]) / steps.length;
  }

  /** The same less their mean. */
  static double[] centred(double[] x) {
    double first = x[0];
    double mean = Arrays.stream(x).map(v -> v - first).sum() / x.length;
    return Arrays.stream(x).map(v -> v - first - mean).toArray();
  }

  /** In reading intervals from the first. */
  static double[] over(double[] times, double step) {
    return Arrays.stream(times).map(t -> (t - times[0]) / step).toArray();
  }

  /** v_k of each kernel. */
  static double[][] spectra(NoiseLaws laws, CosineBasis basis) {
    return laws.kernels().stream().map(basis::variances).toArray(double[][]::new);
  }
}
