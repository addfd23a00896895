// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

/**
 * A covariance of two readings, up to a factor, by the lag r between them in reading intervals
 * (methods.md 6.3c). Flicker noise and the random walk have no variance of a single reading; what
 * stands here serves every weighted sum whose weights add to zero.
 *
 * @param kind which
 * @param correlation r1 of the first-order autoregression, 0 to 1; 0 for the others
 * @param diagonal what is added at lag 0: -1/6 for the random walk of means of readings
 */
record NoiseCovarianceKernel(Kind kind, double correlation, double diagonal) {
  static final NoiseCovarianceKernel WHITE = new NoiseCovarianceKernel(Kind.WHITE, 0, 0);
  static final NoiseCovarianceKernel FLICKER = new NoiseCovarianceKernel(Kind.FLICKER, 0, 0);
  static final NoiseCovarianceKernel WALK = new NoiseCovarianceKernel(Kind.WALK, 0, 0);

  /** The random walk of means of successive readings. */
  static final NoiseCovarianceKernel WALK_OF_MEANS =
      new NoiseCovarianceKernel(Kind.WALK, 0, -1.0 / 6);

  /** What noise is made of. */
  enum Kind {
    WHITE,
    AUTOREGRESSION,
    FLICKER,
    WALK
  }

  static NoiseCovarianceKernel autoregression(double r1) {
    return new NoiseCovarianceKernel(Kind.AUTOREGRESSION, r1, 0);
  }

  /** Whether only sums with weights that add to zero have a variance. */
  boolean needsContrast() {
    return kind == Kind.FLICKER || kind == Kind.WALK;
  }

  /** The covariance at a lag, 0 or more, of any size. */
  double at(double lag) {
    return switch (kind) {
      case WHITE -> lag == 0 ? 1 : 0;
      case AUTOREGRESSION -> Math.pow(correlation, lag);
      case FLICKER -> -flicker(lag) / 2;
      case WALK -> -lag / 2 + (lag == 0 ? diagonal : 0);
    };
  }

  /**
   * The variance of the difference of two means of flicker noise x averaging times apart, over the
   * level h of its spectrum h/f: g(x) = (x+1)^2 ln(x+1) + (x-1)^2 ln|x-1| - 2 x^2 ln x, so that the
   * Allan variance is h g(1)/2 = 2 h ln 2 (NIST SP 1065 (2008), from memory; methods.md 5.10). Far
   * out 2 ln x + 3 - 1/(6 x^2), where the differences would lose their digits.
   */
  static double flicker(double x) {
    if (x == 0) {
      return 0;
    } else if (x > 300) {
      return 2 * Math.log(x) + 3 - 1 / (6 * x * x);
    }
    double near = x == 1 ? 0 : (x - 1) * (x - 1) * Math.log(Math.abs(x - 1));
    return (x + 1) * (x + 1) * Math.log(x + 1) + near - 2 * x * x * Math.log(x);
  }
}
