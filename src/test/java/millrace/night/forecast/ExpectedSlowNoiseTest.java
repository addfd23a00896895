// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ExpectedSlowNoiseTest {
  private static final double RMS = 2;

  private static ExpectedSlowNoise draw(long seed) {
    return new ExpectedSlowNoise(RMS, new SplittableRandom(seed));
  }

  /** 2,500 s is a fixed time of every decade. */
  @Test
  void readingsInBetweenDoNotChangeWhatComesLater() {
    ExpectedSlowNoise few = draw(1);
    ExpectedSlowNoise many = draw(1);
    for (double t = 0; t < 2490; t += 0.7) {
      many.at(t);
    }
    few.at(12.3);
    assertEquals(few.at(2500), many.at(2500), 1e-12);
    many.at(2700);
    assertEquals(few.at(5000), many.at(5000), 1e-12);
    assertNotEquals(few.at(7500), draw(2).at(7500), 1e-3);
  }

  /**
   * The autocovariance of a sum of first-order noises, rms^2 sum exp(-lag/tau) over time constants
   * of 1 s to 10,000 s, at lags shorter and longer than the distance of fixed times.
   */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.1, 0.6, 3, 17, 140, 3000})
  void itIsAsSlowAsTheNoiseOfASimulatedUnit(double lagS) {
    int draws = 4000;
    double sum = 0;
    for (int i = 0; i < draws; i++) {
      ExpectedSlowNoise noise = draw(i);
      double first = noise.at(1.1);
      noise.at(1.1 + lagS / 3);
      sum += first * noise.at(1.1 + lagS) / draws;
    }
    double expected = 0;
    for (double tau = 1; tau <= 10_000; tau *= 10) {
      expected += RMS * RMS * Math.exp(-lagS / tau);
    }
    double whole = 5 * RMS * RMS;
    assertEquals(expected, sum, 4 * Math.sqrt((whole * whole + expected * expected) / draws));
  }
}
