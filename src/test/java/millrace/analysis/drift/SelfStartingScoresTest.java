// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class SelfStartingScoresTest {
  private static SelfStartingScores learnt(double... values) {
    SelfStartingScores scores = new SelfStartingScores();
    for (double value : values) {
      scores.learn(value);
    }
    return scores;
  }

  /** By hand: mean 2, s 1, n 3; t = (4 - 2)/sqrt(4/3) with 2 degrees of freedom. */
  @Test
  void isTheNormalValueThatIsExceededAsOftenAsStudentsT() {
    double t = 2 / Math.sqrt(4.0 / 3);
    double tail = 0.5 - t / (2 * Math.sqrt(2 + t * t)); // closed form of Student's t for nu = 2
    double score = learnt(1, 2, 3).of(4).orElseThrow();
    double back =
        1
            - new org.apache.commons.math3.distribution.NormalDistribution(0, 1)
                .cumulativeProbability(score);
    assertEquals(tail, back, 1e-12);
    assertEquals(-score, learnt(1, 2, 3).of(0).orElseThrow(), 1e-12);
  }

  @Test
  void isEmptyUntilTwoDifferentValuesCame() {
    assertTrue(learnt().of(1).isEmpty());
    assertTrue(learnt(1).of(1).isEmpty());
    assertTrue(learnt(1, 1).of(2).isEmpty());
    assertTrue(learnt(1, 2).of(2).isPresent());
  }

  @Test
  void isBoundedForAValueThatIsFarAway() {
    double[] near = new double[60];
    for (int i = 0; i < near.length; i++) {
      near[i] = i % 2;
    }
    assertEquals(8, learnt(near).of(1e300).orElseThrow());
    assertEquals(-8, learnt(near).of(-1e300).orElseThrow());
  }
}
