// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

/**
 * Wald's sequential probability ratio test between two means of a normal quantity of known scatter
 * (A. Wald, Sequential Analysis, 1947, chapters 3 and 7; methods.md 12): after each observation the
 * logarithm z of the ratio of likelihoods is held against ln B below and ln A above, A = (1 -
 * beta)/alpha, B = beta/(1 - alpha). No test with these two risks needs fewer observations on
 * average at either mean (Wald and Wolfowitz, Ann. Math. Statist. 19 (1948) 326). What the last
 * observation goes beyond the bound is neglected, so a test needs a little more. Pure; thread-safe.
 *
 * @param alpha risk of deciding for the second mean where the first is true, above 0, below 0.5
 * @param beta risk of deciding for the first mean where the second is true, above 0, below 0.5
 */
public record SequentialRatioTest(double alpha, double beta) {
  /** Checks the risks. */
  public SequentialRatioTest {
    if (!(alpha > 0 && alpha < 0.5) || !(beta > 0 && beta < 0.5)) {
      throw new IllegalArgumentException(
          "risks %s and %s; expected both above 0 and below 0.5".formatted(alpha, beta));
    }
  }

  /**
   * Two means that are to be told apart, and by what.
   *
   * @param first a mean
   * @param second another one
   * @param scatter standard deviation of one observation, above 0, in the unit of the means
   */
  public record Means(double first, double second, double scatter) {
    /** Checks that they differ and scatter. */
    public Means {
      if (!(scatter > 0) || first == second) {
        throw new IllegalArgumentException(
            "means %s and %s with scatter %s; expected two means and a scatter above 0"
                .formatted(first, second, scatter));
      }
    }
  }

  /**
   * The bound at which the first mean is decided for: ln B = ln(beta/(1 - alpha)).
   *
   * @return below 0
   */
  public double lower() {
    return Math.log(beta / (1 - alpha));
  }

  /**
   * The bound at which the second mean is decided for: ln A = ln((1 - beta)/alpha).
   *
   * @return above 0
   */
  public double upper() {
    return Math.log((1 - beta) / alpha);
  }

  /**
   * How many observations it takes on average where the first mean is true: ((1 - alpha) ln B +
   * alpha ln A)/E(z), E(z) = -(second - first)^2/(2 scatter^2) (Wald 1947, section 3.5 and 7.4).
   *
   * @param means what is told apart
   * @return above 0; below 1 where one observation tells more than is asked for
   */
  public double expectedCount(Means means) {
    double step = (means.second() - means.first()) / means.scatter();
    return ((1 - alpha) * lower() + alpha * upper()) / (-step * step / 2);
  }
}
