// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.fault.StoppedException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Points that are taken before meter and unit are warm. */
@Timeout(120)
class WarmUpIT {
  private static final String TWICE =
      """
      sequence: before and after
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {share of compliance: [0 %, 50 %]}
              sweep: up
            - wait: 20 min
            - over loads: {share of compliance: [10 %, 40 %]}
              sweep: up
      """;

  @TempDir private Path folder;

  private SimulatedNight night() throws IOException {
    return SimulatedNight.of(
        folder,
        TWICE,
        text ->
            text.replaceFirst(
                "(?m)^    driver: scpi meter$", "    driver: scpi meter\n    warm-up: 1 h"));
  }

  private static void assertFirstHalfFlagged(SimulatedNight night) {
    List<PointState> states = night.points().stream().map(Point::state).toList();
    PointState flagged = PointState.FLAGGED;
    PointState complete = PointState.COMPLETE;
    assertEquals(List.of(flagged, flagged, complete, complete), states);
    assertEquals(
        "taken before the warm-up was over: on for 45.0 min, 'ammeter' needs 1.00 h",
        night.points().get(0).reason());
  }

  @Test
  void areFlaggedUntilTheTimeIsOver() throws IOException {
    try (SimulatedNight night = night()) {
      night.onFor(Duration.ofMinutes(45));
      assertEquals(2, night.run().flagged());
      assertFirstHalfFlagged(night);
      assertTrue(
          night
              .incidents(IncidentKind.OPERATOR)
              .contains(
                  "instruments and unit had been on for 45.0 min when the run began; 'ammeter'"
                      + " needs 1.00 h"));
    }
  }

  @Test
  void aResumedRunKnowsHowLongTheyHaveBeenOn() throws IOException {
    try (SimulatedNight night = night()) {
      night.onFor(Duration.ofMinutes(45));
      night.observe(RunnerIT.after(1, () -> night.stop().stop(StoppedException.Signal.TERM)));
      assertThrows(StoppedException.class, night::run);
      night.run();
      assertFirstHalfFlagged(night);
    }
  }

  @Test
  void areGoodOnABenchThatHasBeenOnAllDay() throws IOException {
    try (SimulatedNight night = night()) {
      night.onFor(Duration.ofHours(8));
      assertTrue(Whole.is(night.run()));
    }
  }
}
