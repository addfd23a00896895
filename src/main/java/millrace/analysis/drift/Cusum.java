// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

/**
 * Cumulative sums of standard normal scores, one for each side: C = max(0, C + z - k) upwards, C =
 * max(0, C - z - k) downwards; a sum beyond h is a signal (Page, Biometrika 41 (1954) 100;
 * NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3; methods.md 8.1). Not thread-safe.
 */
final class Cusum {
  /** Half of the shift to be seen soonest, one standard deviation (the usual choice). */
  static final double K = 0.5;

  private final double h;
  private double up;
  private double down;
  private int upSince;
  private int downSince;
  private int seen;

  Cusum(double h) {
    this.h = h;
  }

  void add(double z) {
    up = Math.max(0, up + z - K);
    down = Math.max(0, down - z - K);
    seen++;
    if (up == 0) {
      upSince = seen;
    }
    if (down == 0) {
      downSince = seen;
    }
  }

  boolean signals() {
    return Math.max(up, down) > h;
  }

  boolean isZero() {
    return up == 0 && down == 0;
  }

  /** How many of the last scores the larger sum stands for. */
  int length() {
    return seen - (up >= down ? upSince : downSince);
  }

  /** Starts again half way to a signal on the side of the larger sum (Lucas and Crosier). */
  void restartHalfWay() {
    boolean upwards = up >= down;
    up = upwards ? h / 2 : 0;
    down = upwards ? 0 : h / 2;
  }
}
