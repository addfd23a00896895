// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class NextReadingForecastTest {
  private final SplittableRandom random = new Seeds(12).stream("trend");

  /** How many of many values come unexpected. */
  private static int unexpected(NextReadingForecast trend, int n, IntToDoubleFunction value) {
    int off = 0;
    trend.take(value.applyAsDouble(0));
    for (int i = 1; i < n; i++) {
      double x = value.applyAsDouble(i);
      off += trend.expects(x) ? 0 : 1;
      trend.take(x);
    }
    return off;
  }

  private double noisy(double relative) {
    return 1e-3 * (1 + relative * random.nextGaussian());
  }

  /** Beyond six standard deviations lie 2 in 10^9 normal values (from memory). */
  @ParameterizedTest
  @ValueSource(doubles = {1e-7, 1e-6, 1e-5})
  void expectsHonestNoise(double relative) {
    assertEquals(0, unexpected(new NextReadingForecast(0), 20_000, i -> noisy(relative)));
  }

  @Test
  void expectsAWarmUpThatTakesTenMinutes() {
    assertEquals(
        0,
        unexpected(
            new NextReadingForecast(0),
            3000,
            i -> noisy(1e-7) + 1e-3 * 50e-6 * (1 - Math.exp(-i / 600.0))));
  }

  @Test
  void expectsWhatIsEqualToTheLastDigit() {
    assertEquals(
        0, unexpected(new NextReadingForecast(1e-9), 2000, i -> 1e-3 + 1e-9 * random.nextInt(2)));
  }

  @ParameterizedTest
  @ValueSource(doubles = {-9, 9, 1000})
  void doesNotExpectAValueFarOffTheLastOnes(double sigmas) {
    NextReadingForecast trend = new NextReadingForecast(0);
    unexpected(trend, 200, i -> noisy(1e-6));
    assertFalse(trend.expects(1e-3 * (1 + sigmas * 1e-6)));
    assertTrue(trend.expects(noisy(1e-6)));
  }

  @Test
  void goesOnFromWhereValuesWent() {
    NextReadingForecast trend = new NextReadingForecast(0);
    unexpected(trend, 100, i -> noisy(1e-6));
    trend.take(2e-3);
    assertTrue(trend.expects(2e-3));
    assertFalse(trend.expects(1e-3));
  }

  @Test
  void expectsNothingBeforeItHasSeenAnything() {
    NextReadingForecast trend = new NextReadingForecast(0);
    assertFalse(trend.expects(1));
    assertTrue(trend.agree(1, 1.0001));
    assertFalse(trend.agree(1, 1.001));
  }
}
