// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Arrays;

/**
 * Clips outlying readings of a series towards their neighbours: m_i the median of readings
 * i-3..i+3, ends mirrored, s = 1.4826 median |y - m|, y = m + (y - m) held to 4.5 s either side
 * (Hampel, J. Am. Statist. Assoc. 69 (1974) 383, from memory, for s; methods.md 6.3a). Pure;
 * thread-safe.
 */
public final class HampelClipping {
  private static final int HALF = 3;
  private static final double NORMAL = 1.4826;
  private static final double MOST = 4.5;

  private HampelClipping() {}

  /**
   * The clipped readings.
   *
   * @param y in the order of time, finite
   * @return as many; the readings themselves where there are fewer than four or most are equal
   */
  public static double[] of(double[] y) {
    int n = y.length;
    if (n <= HALF) {
      return y.clone();
    }
    double[] middle = new double[n];
    double[] window = new double[2 * HALF + 1];
    for (int i = 0; i < n; i++) {
      for (int j = -HALF; j <= HALF; j++) {
        window[j + HALF] = y[mirrored(i + j, n)];
      }
      Arrays.sort(window);
      middle[i] = window[HALF];
    }
    double[] off = new double[n];
    for (int i = 0; i < n; i++) {
      off[i] = Math.abs(y[i] - middle[i]);
    }
    Arrays.sort(off);
    double s = NORMAL * (off[(n - 1) / 2] + off[n / 2]) / 2;
    if (!(s > 0)) {
      return y.clone();
    }
    for (int i = 0; i < n; i++) {
      middle[i] += Math.max(-MOST * s, Math.min(MOST * s, y[i] - middle[i]));
    }
    return middle;
  }

  private static int mirrored(int i, int n) {
    int at = Math.abs(i);
    return at < n ? at : 2 * (n - 1) - at;
  }
}
