// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

/**
 * The exponentially weighted moving average of standard normal scores: W = lambda z + (1 - lambda)
 * W; a signal beyond L sqrt(lambda/(2 - lambda)) (Roberts, Technometrics 1 (1959) 239;
 * NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4; methods.md 8.1). Not thread-safe.
 */
final class MovingAverage {
  /** Weight of the newest score (the usual choice: 0.2 to 0.3). */
  static final double LAMBDA = 0.2;

  private final double limit;
  private double average;

  MovingAverage(double widthFactor) {
    this.limit = limit(LAMBDA, widthFactor);
  }

  /** The limit of the average, in standard deviations of a score. */
  static double limit(double lambda, double widthFactor) {
    return widthFactor * Math.sqrt(lambda / (2 - lambda));
  }

  void add(double z) {
    average = LAMBDA * z + (1 - LAMBDA) * average;
  }

  boolean signals() {
    return Math.abs(average) > limit;
  }

  void restart() {
    average = 0;
  }
}
