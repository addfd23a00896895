// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class StandstillDetectorTest {
  @Test
  void oneReadingAloneTellsNothing() {
    assertFalse(new StandstillDetector(1).after(0));
  }

  @Test
  void aSmallStepOrATurnIsTheEnd() {
    StandstillDetector still = new StandstillDetector(1e-3);
    assertFalse(still.after(8));
    assertFalse(still.after(4));
    assertFalse(still.after(2));
    assertTrue(still.after(2.5));
    assertTrue(still.after(2.5005));
  }

  /** What decays by a factor e in 5 readings is left as noise times some 5 at most (no source). */
  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
  void whatDecaysIsLeftAtNoMoreThanAFewTimesItsNoise(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    StandstillDetector still = new StandstillDetector(0);
    double decay = Math.exp(-0.2);
    double rest = 1e4;
    int readings = 0;
    while (!still.after(rest + random.nextGaussian())) {
      rest *= decay;
      readings++;
    }
    assertTrue(rest < 25, "left " + rest + " standard deviations");
    assertEquals(50, readings, 30);
  }
}
