// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalTime;
import org.junit.jupiter.api.Test;

/** The part of the day in which a bench may be at work. */
class InterlockHoursTest {
  private static final Interlocks.Hours NIGHT =
      new Interlocks.Hours(LocalTime.of(22, 0), LocalTime.of(6, 0));
  private static final Interlocks.Hours DAY =
      new Interlocks.Hours(LocalTime.of(8, 0), LocalTime.of(18, 0));

  @Test
  void lastOverMidnightWhereTheyEndBeforeTheyBegin() {
    assertTrue(NIGHT.contains(LocalTime.of(23, 0)));
    assertTrue(NIGHT.contains(LocalTime.of(5, 59)));
    assertFalse(NIGHT.contains(LocalTime.of(6, 0)));
    assertFalse(NIGHT.contains(LocalTime.NOON));
    assertEquals(8 * 3600, NIGHT.spanS());
  }

  @Test
  void holdTheirBeginningAndNotTheirEnd() {
    assertTrue(DAY.contains(LocalTime.of(8, 0)));
    assertFalse(DAY.contains(LocalTime.of(18, 0)));
    assertFalse(DAY.contains(LocalTime.of(7, 59)));
    assertEquals(10 * 3600, DAY.spanS());
  }
}
