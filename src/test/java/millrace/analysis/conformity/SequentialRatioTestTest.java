// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import millrace.analysis.conformity.SequentialRatioTest.Means;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The sequential probability ratio test against published figures, and against its own trials. */
class SequentialRatioTestTest {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /**
   * A. Wald, Sequential Analysis (1947), table of section 3.6 (its figures from memory): by how
   * many per cent the test needs fewer observations on average, where the first mean is true, than
   * the most powerful test of fixed size, ((z_alpha + z_beta) scatter/difference)^2.
   */
  @ParameterizedTest
  @CsvSource({
    "0.01, 0.01, 58",
    "0.01, 0.05, 63",
    "0.03, 0.03, 54",
    "0.05, 0.01, 47",
    "0.05, 0.05, 51"
  })
  void savesWhatWaldsTableSays(double alpha, double beta, long percent) {
    double fixed =
        Math.pow(
            NORMAL.inverseCumulativeProbability(1 - alpha)
                + NORMAL.inverseCumulativeProbability(1 - beta),
            2);
    double sequential = new SequentialRatioTest(alpha, beta).expectedCount(new Means(0, 1, 1));
    assertEquals(percent, Math.round(100 * (1 - sequential / fixed)));
  }

  /**
   * NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.6, sequential sampling of attributes (its
   * figures from memory): p1 = 0.01, p2 = 0.10, alpha = 0.05, beta = 0.10 give the lines -0.939 +
   * 0.0397 n and 1.205 + 0.0397 n, which are the two bounds over k = ln(p2 (1 - p1)/(p1 (1 - p2))).
   */
  @Test
  void itsBoundsAreThoseOfTheHandbooksSamplingPlan() {
    SequentialRatioTest test = new SequentialRatioTest(0.05, 0.10);
    double k = Math.log(0.10 * 0.99 / (0.01 * 0.90));
    assertEquals(-0.939, test.lower() / k, 5e-4);
    assertEquals(1.205, test.upper() / k, 5e-4);
  }

  /** Steps that are small beside the bounds go little beyond them, which Wald neglects. */
  @Test
  void itsTrialsTakeAsManyObservationsAndKeepTheirRisks() {
    double alpha = 0.05;
    double beta = 0.02;
    SequentialRatioTest test = new SequentialRatioTest(alpha, beta);
    Means means = new Means(0, 0.1, 1);
    SplittableRandom random = new SplittableRandom(1947);
    int trials = 2000;
    int wrong = 0;
    long observations = 0;
    for (int i = 0; i < trials; i++) {
      double z = 0;
      while (z > test.lower() && z < test.upper()) {
        z += 0.1 * random.nextGaussian() - 0.005; // (theta1 - theta0)(x - (theta0 + theta1)/2)
        observations++;
      }
      wrong += z >= test.upper() ? 1 : 0;
    }
    double mean = (double) observations / trials;
    // 2,000 trials scatter by some 1.5 %, and each goes beyond its bound by 0.06 or so of 3.8.
    assertEquals(test.expectedCount(means), mean, 0.07 * mean);
    assertTrue(wrong <= alpha * trials + 3 * Math.sqrt(alpha * trials), "wrong in " + wrong);
  }

  @Test
  void refusesRisksThatAreNone() {
    assertThrows(IllegalArgumentException.class, () -> new SequentialRatioTest(0, 0.1));
    assertThrows(IllegalArgumentException.class, () -> new SequentialRatioTest(0.1, 0.5));
    assertThrows(IllegalArgumentException.class, () -> new Means(1, 1, 1));
    assertThrows(IllegalArgumentException.class, () -> new Means(0, 1, 0));
  }
}
