// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Which range of a meter a value is read on. */
class MeterRangeTest {
  private static final MeterRange SMALL = new MeterRange(1e-3, 1.2e-3, 1e-9);
  private static final MeterRange LARGE = new MeterRange(1e-2, 1.2e-2, 1e-8);
  private static final List<MeterRange> RANGES = List.of(LARGE, SMALL);

  @Test
  void isTheSmallestThatTakesTheValueWithItsMargin() {
    assertEquals(Optional.of(SMALL), MeterRange.pick(RANGES, -1e-3, 0.1));
    assertEquals(Optional.of(LARGE), MeterRange.pick(RANGES, 1e-3, 0.25));
  }

  @Test
  void takesAValueOfExactlyItsHighestReading() {
    assertEquals(Optional.of(SMALL), MeterRange.pick(RANGES, 1.2e-3, 0));
  }

  @Test
  void isTheLargestWhereNoneTakesTheValue() {
    assertEquals(Optional.of(LARGE), MeterRange.pick(RANGES, 1, 0));
    assertEquals(Optional.empty(), MeterRange.pick(List.of(), 1, 0));
  }

  @Test
  void goesUpByOneRangeUntilTheLargest() {
    assertEquals(Optional.of(LARGE), SMALL.up(RANGES));
    assertEquals(Optional.empty(), LARGE.up(RANGES));
  }
}
