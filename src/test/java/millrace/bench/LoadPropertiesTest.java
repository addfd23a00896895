// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import millrace.bench.LoadProperties.Limit;
import org.junit.jupiter.api.Test;

/** What a decade box bears, and what leakage across it takes away. */
class LoadPropertiesTest {
  private static final LoadProperties BOX =
      new LoadProperties(
          List.of(), List.of(new Limit(1000, 50, 0.5), new Limit(100, 20, 1)), 0, Optional.of(1e6));

  @Test
  void theLimitIsThatOfTheDecadeOfTheSetting() {
    assertEquals(Optional.of(new Limit(100, 20, 1)), BOX.bears(999));
    assertEquals(Optional.of(new Limit(1000, 50, 0.5)), BOX.bears(1000));
    assertEquals(Optional.empty(), BOX.bears(99));
  }

  @Test
  void voltageAndPowerCountInEitherDirectionOfTheCurrent() {
    assertFalse(BOX.overloaded(1000, 0.02));
    assertTrue(BOX.overloaded(1000, -0.03), "0.9 W");
    assertTrue(BOX.overloaded(9000, -0.006), "54 V at 0.32 W");
    assertFalse(BOX.overloaded(50, 1), "nothing stated");
  }

  /** Two resistances in parallel: 1 kohm beside 1 Mohm are 999.001 ohm. */
  @Test
  void leakageTakesWhatParallelResistancesLack() {
    assertEquals(1000 - 1000 * 1e6 / (1000 + 1e6), BOX.shuntedOhm(1000), 1e-9);
    assertEquals(0, LoadProperties.NONE.shuntedOhm(1000));
  }
}
