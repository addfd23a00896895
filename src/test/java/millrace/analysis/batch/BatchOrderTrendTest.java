// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class BatchOrderTrendTest {
  private static final double[] RISING = {
    -3, 0.4, 3.4, -1.4, 4.8, 4.9, 5.9, 10.9, 2.3, 13.1, 5.8, 5.1, 7.5, 12.2, 12.6, 11.6, 9.8, 11.8,
    20.1, 16.8
  };

  private static double[] places(int n) {
    return IntStream.range(0, n).asDoubleStream().toArray();
  }

  /**
   * Base R 4.2: cor.test(1:20, y, method = "kendall", exact = FALSE, continuity = TRUE), and the
   * median of all slopes with the slopes at (N - z sd)/2 and (N + z sd)/2 + 1, times 19.
   */
  @Test
  void agreesWithR() {
    BatchOrderTrend found = BatchOrderTrend.of(places(20), RISING, 0.95);
    assertEquals(16.2706349206349, found.change(), 1e-12);
    assertEquals(11.6746109454246, found.interval().lower(), 1e-9);
    assertEquals(22.0222310564725, found.interval().upper(), 1e-9);
    assertEquals(2.84773845039444e-05, found.probability(), 1e-13);
  }

  @Test
  void aFewBadUnitsMakeNoDriftAndHideNone() {
    double[] values = RISING.clone();
    values[4] = 4000;
    BatchOrderTrend found = BatchOrderTrend.of(places(20), values, 0.95);
    assertEquals(16.3, found.change(), 2);
    assertTrue(found.probability() < 0.01);
    double[] level = {1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 900};
    assertTrue(BatchOrderTrend.of(places(12), level, 0.95).probability() > 0.05);
  }

  @Test
  void valuesThatAreAllAlikeDoNotDrift() {
    BatchOrderTrend found = BatchOrderTrend.of(places(12), new double[12], 0.95);
    assertEquals(0, found.change());
    assertEquals(1, found.probability());
  }

  /** Ranks are found without ordering the slopes: the same as where they are ordered. */
  @Test
  void theMiddleSlopeIsThatOfAllInOrder() {
    SplittableRandom random = new SplittableRandom(20261130);
    for (int n = 10; n < 130; n += 7) {
      double[] values = random.doubles(n).map(v -> Math.rint(8 * v) / 8).toArray();
      double[] slopes =
          IntStream.range(0, n)
              .boxed()
              .flatMapToDouble(
                  i ->
                      IntStream.range(i + 1, values.length)
                          .mapToDouble(j -> (values[j] - values[i]) / (j - i)))
              .sorted()
              .toArray();
      double middle = (slopes[(slopes.length - 1) / 2] + slopes[slopes.length / 2]) / 2;
      double found = BatchOrderTrend.of(places(n), values, 0.95).change();
      assertEquals(middle * (n - 1), found, 1e-12, "of " + n);
    }
  }

  /** Taken together by threes a slope is still the slope. */
  @Test
  void manyValuesAreTakenTogether() {
    double[] values = new double[1500];
    for (int i = 0; i < values.length; i++) {
      values[i] = 0.01 * i + (i * 7919 % 13 - 6);
    }
    BatchOrderTrend found = BatchOrderTrend.of(places(1500), values, 0.95);
    assertEquals(14.99, found.change(), 0.5);
    assertTrue(found.interval().lower() < 14.99 && found.interval().upper() > 14.99);
    assertEquals(1500, found.n());
  }

  @Test
  void tooFewValuesAndPlacesThatDoNotRiseAreRefused() {
    assertThrows(
        IllegalArgumentException.class, () -> BatchOrderTrend.of(places(9), new double[9], 0.95));
    double[] twice = places(10);
    twice[3] = twice[2];
    assertThrows(
        IllegalArgumentException.class, () -> BatchOrderTrend.of(twice, new double[10], 0.95));
  }
}
