// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.Optional;

/**
 * The power laws of SP 1065, by the exponent alpha of the spectrum of fractional values, with the
 * equivalent degrees of freedom of the overlapping Allan variance (Howe, Allan and Barnes, Proc.
 * 35th Freq. Control Symp. (1981), as in NIST SP 1065 (2008), 5.4, from memory; methods.md 6.4).
 */
public enum NoiseType {
  /** Differences of white noise, alpha 2. */
  WHITE_PHASE("white phase noise", 2) {
    @Override
    double degreesOfFreedom(double n, double m) {
      return (n + 1) * (n - 2 * m) / (2 * (n - m));
    }
  },
  /** Differences of flicker noise, alpha 1. */
  FLICKER_PHASE("flicker phase noise", 1) {
    @Override
    double degreesOfFreedom(double n, double m) {
      return Math.exp(Math.sqrt(Math.log((n - 1) / (2 * m)) * Math.log((2 * m + 1) * (n - 1) / 4)));
    }
  },
  /** Noise that averaging brings down by its root, alpha 0. */
  WHITE("white noise", 0) {
    @Override
    double degreesOfFreedom(double n, double m) {
      return (3 * (n - 1) / (2 * m) - 2 * (n - 2) / n) * 4 * m * m / (4 * m * m + 5);
    }
  },
  /** Noise that averaging does not bring down, alpha -1. */
  FLICKER("flicker noise", -1) {
    @Override
    double degreesOfFreedom(double n, double m) {
      return m == 1 ? 2 * (n - 2) * (n - 2) / (2.3 * n - 4.9) : 5 * n * n / (4 * m * (n + 3 * m));
    }
  },
  /** A random walk, alpha -2. */
  RANDOM_WALK("random walk", -2) {
    @Override
    double degreesOfFreedom(double n, double m) {
      double first = n - 1;
      return (n - 2) / m * (first * first - 3 * m * first + 4 * m * m) / ((n - 3) * (n - 3));
    }
  };

  private static final int MOST_DIFFERENCES = 2;

  private final String text;
  private final int alpha;

  NoiseType(String text, int alpha) {
    this.text = text;
    this.alpha = alpha;
  }

  /**
   * Equivalent degrees of freedom of the overlapping Allan variance.
   *
   * @param n phases, one more than values, at least 2 m + 1
   * @param m values per average
   */
  abstract double degreesOfFreedom(double n, double m);

  /**
   * Tells whether averaging does not bring it down.
   *
   * @return true for flicker noise and a random walk
   */
  boolean slow() {
    return alpha < 0;
  }

  /**
   * The words for people.
   *
   * @return for example {@code flicker noise}
   */
  public String text() {
    return text;
  }

  /**
   * The type by the lag-1 autocorrelation of averages: r/(1 + r) = delta below 1/4 after d
   * differences gives alpha = -2 (delta + d) (Riley and Greenhall, Proc. 18th EFTF (2004), as in
   * NIST SP 1065 (2008), 5.5.6, from memory).
   *
   * @param averages side by side; overwritten
   * @param least how many averages it takes: 30 by the source, but chance then names one white
   *     record in six something else, and its interval is wrong
   * @return empty with fewer averages than that, or averages that are all alike
   */
  static Optional<NoiseType> of(double[] averages, int least) {
    double[] z = averages;
    int n = z.length;
    if (n < least) {
      return Optional.empty();
    }
    for (int d = 0; ; d++) {
      double r = correlation(z, n);
      if (Double.isNaN(r)) {
        return Optional.empty();
      }
      double delta = r / (1 + r);
      if (delta < 0.25 || d == MOST_DIFFERENCES) {
        return Optional.of(nearest(-2 * (delta + d)));
      }
      n--;
      for (int i = 0; i < n; i++) {
        z[i] = z[i + 1] - z[i];
      }
    }
  }

  private static double correlation(double[] z, int n) {
    double mean = 0;
    for (int i = 0; i < n; i++) {
      mean += z[i] / n;
    }
    double squares = 0;
    double lagged = 0;
    for (int i = 0; i < n; i++) {
      squares += (z[i] - mean) * (z[i] - mean);
      lagged += i > 0 ? (z[i] - mean) * (z[i - 1] - mean) : 0;
    }
    return squares > 0 ? lagged / squares : Double.NaN;
  }

  private static NoiseType nearest(double alpha) {
    NoiseType best = WHITE;
    for (NoiseType each : values()) {
      if (Math.abs(each.alpha - alpha) < Math.abs(best.alpha - alpha)) {
        best = each;
      }
    }
    return best;
  }
}
