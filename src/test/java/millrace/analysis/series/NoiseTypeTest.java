// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.Random;
import millrace.analysis.noise.Noises;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The equivalent degrees of freedom of all five types, held against records that were drawn: edf =
 * 2 (mean)^2/(variance) of the overlapping Allan variance over many of them.
 */
class NoiseTypeTest {
  private static final int VALUES = 128;
  private static final int RECORDS = 1200;

  private static double[] drawn(NoiseType type, Random random) {
    return switch (type) {
      case WHITE_PHASE -> differences(Noises.white(random, VALUES + 1));
      case FLICKER_PHASE -> differences(Noises.flicker(random, VALUES + 1));
      case WHITE -> Noises.white(random, VALUES);
      case FLICKER -> Noises.flicker(random, VALUES);
      case RANDOM_WALK -> Noises.walk(random, VALUES);
    };
  }

  private static double[] differences(double[] x) {
    double[] d = new double[x.length - 1];
    for (int i = 0; i < d.length; i++) {
      d[i] = x[i + 1] - x[i];
    }
    return d;
  }

  /** The formulas are fits themselves: within a quarter of what 1,200 records tell to 4 %. */
  @ParameterizedTest
  @CsvSource({
    "WHITE_PHASE, 1", "WHITE_PHASE, 8", "FLICKER_PHASE, 1", "FLICKER_PHASE, 8", "WHITE, 1",
    "WHITE, 8", "FLICKER, 1", "FLICKER, 8", "RANDOM_WALK, 1", "RANDOM_WALK, 8"
  })
  void theDegreesOfFreedomAreThoseOfDrawnRecords(NoiseType type, int m) {
    Random random = new Random(1065 + m);
    double[] times = new double[VALUES];
    Arrays.setAll(times, i -> i);
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < RECORDS; i++) {
      double variance =
          EvenTimeGrid.of(TimeSeries.of(times, drawn(type, random)), 1e6).allan(m).ppm2();
      sum += variance;
      squares += variance * variance;
    }
    double mean = sum / RECORDS;
    double drawn = 2 * mean * mean / (squares / RECORDS - mean * mean);
    double stated = type.degreesOfFreedom(VALUES + 1, m);
    assertEquals(1, stated / drawn, 0.25, "stated %s, drawn %s".formatted(stated, drawn));
  }

  /** NIST SP 1065 (2008), worked interval of its 1000-point series at m = 10 (from memory). */
  @Test
  void whiteNoiseHasThePublishedDegreesOfFreedom() {
    assertEquals(146.177, NoiseType.WHITE.degreesOfFreedom(1001, 10), 0.0005);
  }
}
