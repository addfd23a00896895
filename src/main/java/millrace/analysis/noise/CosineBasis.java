// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Arrays;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/**
 * The orthonormal cosine basis of n readings (DCT-II), in which every law of noise is nearly
 * diagonal (methods.md 6.3b, c). For any n in n log n steps by the chirp transform: k i = (k^2 +
 * i^2 - (k-i)^2)/2 makes the sums a convolution (Bluestein, IEEE Trans. Audio Electroacoust. 18
 * (1970) 451, from memory). Immutable and thread-safe.
 */
final class CosineBasis {
  private final int n;
  private final int length;
  private final double[] cos;
  private final double[] sin;
  private final double[][] filter;

  CosineBasis(int n) {
    this.n = n;
    this.length = Integer.highestOneBit(Math.max(1, 2 * n - 1)) * 2;
    this.cos = new double[n];
    this.sin = new double[n];
    for (int k = 0; k < n; k++) {
      double angle = Math.PI * ((long) k * k % (4L * n)) / (2.0 * n);
      cos[k] = Math.cos(angle);
      sin[k] = Math.sin(angle);
    }
    this.filter = new double[2][length];
    for (int k = 0; k < n; k++) {
      filter[0][k] = cos[k];
      filter[1][k] = sin[k];
      filter[0][(length - k) % length] = cos[k];
      filter[1][(length - k) % length] = sin[k];
    }
    transform(filter, TransformType.FORWARD);
  }

  private static void transform(double[][] x, TransformType type) {
    FastFourierTransformer.transformInPlace(x, DftNormalization.STANDARD, type);
  }

  /** Sum of a_i exp(-j pi k i/n) over i = 0..n-1, for k = 0..n-1: real and imaginary parts. */
  private double[][] sums(double[] a) {
    double[][] x = new double[2][length];
    for (int i = 0; i < n; i++) {
      x[0][i] = a[i] * cos[i];
      x[1][i] = -a[i] * sin[i];
    }
    transform(x, TransformType.FORWARD);
    for (int i = 0; i < length; i++) {
      double re = x[0][i] * filter[0][i] - x[1][i] * filter[1][i];
      x[1][i] = x[0][i] * filter[1][i] + x[1][i] * filter[0][i];
      x[0][i] = re;
    }
    transform(x, TransformType.INVERSE);
    double[][] sums = new double[2][n];
    for (int k = 0; k < n; k++) {
      sums[0][k] = x[0][k] * cos[k] + x[1][k] * sin[k];
      sums[1][k] = x[1][k] * cos[k] - x[0][k] * sin[k];
    }
    return sums;
  }

  /** The coefficients k = 1..n-1; the level, k = 0, is free and left out. */
  double[] coefficients(double[] y) {
    double mean = 0;
    for (double each : y) {
      mean += each / n;
    }
    double[] centred = new double[n];
    for (int i = 0; i < n; i++) {
      centred[i] = y[i] - mean;
    }
    double[][] sums = sums(centred);
    double[] coefficients = new double[n - 1];
    double scale = Math.sqrt(2.0 / n);
    for (int k = 1; k < n; k++) {
      double half = Math.PI * k / (2.0 * n);
      coefficients[k - 1] = scale * (sums[0][k] * Math.cos(half) + sums[1][k] * Math.sin(half));
    }
    return coefficients;
  }

  /**
   * The exact variances of the coefficients k = 1..n-1 under a kernel: v_k = K_0 + (2/n) sum over r
   * of K_r ((n-r) cos rz - sin rz/sin z), z = pi k/n (methods.md 6.3c).
   */
  double[] variances(NoiseCovarianceKernel kernel) {
    return switch (kernel.kind()) {
      case WHITE -> filled(1);
      case WALK -> walk(kernel.diagonal());
      case AUTOREGRESSION -> autoregression(kernel.correlation());
      case FLICKER -> summed(kernel);
    };
  }

  private double[] filled(double value) {
    double[] v = new double[n - 1];
    Arrays.fill(v, value);
    return v;
  }

  private double[] walk(double diagonal) {
    double[] v = new double[n - 1];
    for (int k = 1; k < n; k++) {
      double s = Math.sin(Math.PI * k / (2.0 * n));
      v[k - 1] = 1 / (4 * s * s) + diagonal;
    }
    return v;
  }

  private double[] summed(NoiseCovarianceKernel kernel) {
    double[] plain = new double[n];
    double[] falling = new double[n];
    for (int r = 1; r < n; r++) {
      plain[r] = kernel.at(r);
      falling[r] = (n - r) * plain[r];
    }
    double[][] sines = sums(plain);
    double[][] cosines = sums(falling);
    double[] v = new double[n - 1];
    for (int k = 1; k < n; k++) {
      double z = Math.PI * k / n;
      v[k - 1] = kernel.at(0) + 2.0 / n * (cosines[0][k] + sines[1][k] / Math.sin(z));
    }
    return v;
  }

  /** In closed form, the sums over r of x^r and r x^r with x = r1 exp(jz), x^n = r1^n (-1)^k. */
  private double[] autoregression(double r1) {
    double[] v = new double[n - 1];
    double power = Math.pow(r1, n);
    for (int k = 1; k < n; k++) {
      double z = Math.PI * k / n;
      double re = r1 * Math.cos(z);
      double im = r1 * Math.sin(z);
      double xn = k % 2 == 0 ? power : -power;
      double dr = 1 - re;
      double d2 = dr * dr + im * im;
      // (x - x^n)/(1 - x)
      double s1re = ((re - xn) * dr - im * im) / d2;
      double s1im = (im * dr + (re - xn) * im) / d2;
      // (x - n x^n + (n-1) x^(n+1))/(1 - x)^2
      double topRe = re - n * xn + (n - 1) * xn * re;
      double topIm = im + (n - 1) * xn * im;
      double qr = dr * dr - im * im;
      double qi = -2 * dr * im;
      double s2re = (topRe * qr + topIm * qi) / (d2 * d2);
      v[k - 1] = 1 + 2.0 / n * (n * s1re - s2re - s1im / Math.sin(z));
    }
    return v;
  }
}
