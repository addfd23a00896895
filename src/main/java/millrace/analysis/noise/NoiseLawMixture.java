// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.SplittableRandom;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * How probable each law is and how large its scale, and the interval that follows for any weighted
 * sum of readings: U solves sum p (2 F_nu(U/s) - 1) = coverage, s^2 = RSS/nu w'Kw, F Student's
 * (methods.md 6.3d). Immutable and thread-safe.
 */
final class NoiseLawMixture {
  private static final double NEGLIGIBLE = 1e-9;
  private static final int STEPS = 60;

  /** Degrees of freedom from which Student's t is replaced by its normal approximation. */
  private static final int NEARLY_NORMAL = 200;

  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  private static final int EXACT_DRAW = 30;

  private final NoiseLaws laws;
  private final double[] probability;
  private final double[] scale;
  private final int degrees;

  private NoiseLawMixture(NoiseLaws laws, double[] probability, double[] scale, int degrees) {
    this.laws = laws;
    this.probability = probability;
    this.scale = scale;
    this.degrees = degrees;
  }

  /**
   * From the evidence of readings.
   *
   * @param laws the laws
   * @param evidence what was read; degrees 1 or more, some scatter
   */
  static NoiseLawMixture of(NoiseLaws laws, LawEvidence evidence) {
    int n = laws.size();
    double[] lnL = new double[n];
    double[] scale = new double[n];
    double most = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < n; i++) {
      double rss = Math.max(evidence.squares()[i], Double.MIN_NORMAL);
      lnL[i] =
          Math.log(laws.share(i))
              - (evidence.lnDeterminant()[i] + evidence.degrees() * Math.log(rss)) / 2;
      scale[i] = rss / evidence.degrees();
      most = Math.max(most, lnL[i]);
    }
    double sum = 0;
    double[] p = new double[n];
    for (int i = 0; i < n; i++) {
      p[i] = Math.exp(lnL[i] - most);
      sum += p[i];
    }
    for (int i = 0; i < n; i++) {
      p[i] /= sum;
    }
    return new NoiseLawMixture(laws, p, scale, evidence.degrees());
  }

  /** U of a weighted sum, from w'Kw of each kernel. */
  double expanded(double[] byKernel, double coverage) {
    double[] s = new double[probability.length];
    double high = 0;
    for (int i = 0; i < s.length; i++) {
      s[i] = Math.sqrt(Math.max(0, scale[i] * laws.of(i, byKernel)));
      high = probability[i] > NEGLIGIBLE ? Math.max(high, s[i]) : high;
    }
    if (high == 0) {
      return 0;
    }
    TDistribution t = new TDistribution(null, degrees);
    high *= -t.inverseCumulativeProbability((1 - coverage) / 2);
    double low = 0;
    for (int step = 0; step < STEPS && high - low > 1e-5 * high; step++) {
      double middle = (low + high) / 2;
      if (outside(t, s, middle) > 1 - coverage) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return high;
  }

  private double outside(TDistribution t, double[] s, double u) {
    double sum = 0;
    for (int i = 0; i < s.length; i++) {
      if (probability[i] > NEGLIGIBLE && s[i] > 0) {
        sum += probability[i] * 2 * below(t, -u / s[i]);
      }
    }
    return sum;
  }

  /**
   * Student's distribution below x; from 200 degrees on by the normal one at x (1 - 1/(4
   * nu))/sqrt(1 + x^2/(2 nu)), within 1e-6 there (Abramowitz and Stegun 26.7.8, from memory).
   */
  private double below(TDistribution t, double x) {
    return degrees < NEARLY_NORMAL
        ? t.cumulativeProbability(x)
        : NORMAL.cumulativeProbability(
            x * (1 - 0.25 / degrees) / Math.sqrt(1 + x * x / (2 * degrees)));
  }

  /** The mean variance of what has these variances under each kernel. */
  double variance(double[] byKernel) {
    double sum = 0;
    for (int i = 0; i < scale.length; i++) {
      sum += probability[i] * scale[i] * laws.of(i, byKernel);
    }
    return sum;
  }

  /** A random draw of a law's scale: RSS over a chi-squared draw. */
  double drawnScale(int law, SplittableRandom random) {
    double chi;
    if (degrees <= EXACT_DRAW) {
      chi = 0;
      for (int i = 0; i < degrees; i++) {
        double z = random.nextGaussian();
        chi += z * z;
      }
    } else {
      // Wilson and Hilferty, PNAS 17 (1931) 684: the cube root is nearly normal.
      double spread = 2.0 / (9 * degrees);
      chi = degrees * Math.pow(1 - spread + Math.sqrt(spread) * random.nextGaussian(), 3);
    }
    return scale[law] * degrees / chi;
  }

  /** How probable a law is. */
  double probability(int law) {
    return probability[law];
  }
}
