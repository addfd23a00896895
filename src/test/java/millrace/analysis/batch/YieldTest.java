// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import millrace.analysis.batch.Yield.Attempt;
import org.junit.jupiter.api.Test;

class YieldTest {
  private static Attempt first(String unit, boolean passed) {
    return new Attempt(unit, passed, Optional.empty());
  }

  private static Attempt again(String unit, boolean passed) {
    return new Attempt(unit, passed, Optional.of("cable was loose"));
  }

  @Test
  void theFirstResultCountsForFirstPassYieldAndTheLastForTheRest() {
    Yield found =
        Yield.of(
            List.of(first("A", true), first("B", false), again("B", true), first("C", false)),
            1,
            0.9545);
    assertEquals(1, found.firstPass().count());
    assertEquals(3, found.firstPass().of());
    assertEquals(2, found.afterRetest().count());
    assertEquals(1, found.retests());
  }

  @Test
  void aRetestThatFailsCountsThoughAnEarlierOnePassed() {
    Yield found =
        Yield.of(List.of(first("A", false), again("A", true), again("A", false)), 2, 0.9545);
    assertEquals(0, found.afterRetest().count());
  }

  @Test
  void retestsWithoutCauseOrBeyondTheirNumberDoNotCount() {
    Yield found =
        Yield.of(
            List.of(first("A", false), first("A", true), again("A", false), again("A", true)),
            1,
            0.9545);
    assertEquals(0, found.afterRetest().count());
    assertEquals(2, found.refused());
  }

  @Test
  void noneAndAllOfABatchHaveOneSidedIntervals() {
    assertEquals(0, ProportionInterval.of(0, 10, 0.95).interval().lower());
    assertEquals(1, ProportionInterval.of(10, 10, 0.95).interval().upper());
    assertEquals(0.1, ProportionInterval.of(1, 10, 0.95).value());
  }

  @Test
  void aShareOfNothingIsRefused() {
    String message =
        assertThrows(IllegalArgumentException.class, () -> ProportionInterval.of(0, 0, 0.95))
            .getMessage();
    assertEquals("0 of 0 units; expected 0 to all of at least one", message);
    assertThrows(IllegalArgumentException.class, () -> ProportionInterval.of(3, 2, 0.95));
  }
}
