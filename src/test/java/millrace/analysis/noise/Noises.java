// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Random;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/** Noise of known law, made otherwise than the laws under test are written. */
public final class Noises {
  private Noises() {}

  /** Independent values of standard deviation 1. */
  public static double[] white(Random random, int n) {
    double[] x = new double[n];
    for (int i = 0; i < n; i++) {
      x[i] = random.nextGaussian();
    }
    return x;
  }

  /** A stationary first-order autoregression of standard deviation 1. */
  public static double[] autoregression(Random random, int n, double r1) {
    double[] x = white(random, n);
    for (int i = 1; i < n; i++) {
      x[i] = r1 * x[i - 1] + Math.sqrt(1 - r1 * r1) * x[i];
    }
    return x;
  }

  /** A random walk of unit steps. */
  public static double[] walk(Random random, int n) {
    double[] x = white(random, n);
    for (int i = 1; i < n; i++) {
      x[i] += x[i - 1];
    }
    return x;
  }

  /**
   * Flicker noise by the fractional filter h_k = h_(k-1) (k - 1/2)/k (Kasdin, Proc. IEEE 83 (1995)
   * 802, from memory), three times as long as asked for, of which the end counts.
   */
  public static double[] flicker(Random random, int n) {
    int length = Integer.highestOneBit(8 * n - 1) * 2;
    double[][] h = new double[2][length];
    double[][] x = new double[2][length];
    h[0][0] = 1;
    for (int k = 1; k < length / 2; k++) {
      h[0][k] = h[0][k - 1] * (k - 0.5) / k;
    }
    for (int k = 0; k < length / 2; k++) {
      x[0][k] = random.nextGaussian();
    }
    transform(h, TransformType.FORWARD);
    transform(x, TransformType.FORWARD);
    for (int k = 0; k < length; k++) {
      double re = x[0][k] * h[0][k] - x[1][k] * h[1][k];
      x[1][k] = x[0][k] * h[1][k] + x[1][k] * h[0][k];
      x[0][k] = re;
    }
    transform(x, TransformType.INVERSE);
    double[] end = new double[n];
    System.arraycopy(x[0], length / 2 - n, end, 0, n);
    return end;
  }

  private static void transform(double[][] x, TransformType type) {
    FastFourierTransformer.transformInPlace(x, DftNormalization.STANDARD, type);
  }

  /** Two kinds together. */
  public static double[] sum(double[] a, double[] b, double share) {
    double[] x = a.clone();
    for (int i = 0; i < x.length; i++) {
      x[i] += share * b[i];
    }
    return x;
  }
}
