// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.run.control.RunObserver;
import millrace.run.interlock.ClockWatch;
import millrace.time.SystemClock;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Wall clocks that are set, summer time, and a machine that sleeps in the midst of a run. */
@Timeout(120)
class ClockIT {
  private static final ZoneId ZONE = ZoneId.of("Europe/Copenhagen");

  @TempDir private Path folder;

  @Test
  void aJumpOfTheWallClockIsNotedAndChangesNoDuration() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT)) {
      night.observe(RunnerIT.after(3, () -> night.clock().jump(Duration.ofHours(-1))));
      assertTrue(Whole.is(night.run()));
      assertEquals(
          List.of(
              "the wall clock jumped by -1.000 h against elapsed time; durations are not touched"),
          night.incidents(IncidentKind.CLOCK));
      Duration last = Duration.ZERO;
      for (Point p : notEmpty(night.points())) {
        assertTrue(p.started().compareTo(last) >= 0, p.toString());
        last = p.ended();
      }
    }
  }

  @Test
  void aMachineThatSleptSoaksAgainAndGoesOnWithTheTimeThatPassed() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      night.observe(RunnerIT.after(1, () -> night.clock().suspend(Duration.ofHours(3))));
      assertTrue(Whole.is(night.run()));
      assertEquals(
          List.of(
              "the machine slept for 3.000 h: nothing was read or watched meanwhile; what was under"
                  + " way is begun again, after a soak"),
          night.incidents(IncidentKind.CLOCK));
      assertEquals(2, night.incidents(IncidentKind.SOAK).size());
      List<Point> taken = night.points().stream().filter(p -> p.kind() != PointKind.SOAK).toList();
      assertEquals(
          night.plan().points().stream().map(p -> p.key()).toList(),
          taken.stream().map(Point::key).toList());
      Duration pause = taken.get(1).started().minus(taken.get(0).ended());
      assertTrue(pause.compareTo(Duration.ofHours(3)) >= 0, pause.toString());
      RunnerIT.assertSafe(night);
    }
  }

  @Test
  void aLaptopThatIsClosedInTheMidstOfASoakIsNoFailure() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      night.observe(closedAt(night, Duration.ofMinutes(8)));
      assertTrue(Whole.is(night.run()));
      assertEquals(1, night.incidents(IncidentKind.CLOCK).size());
      assertEquals(1, night.incidents(IncidentKind.SOAK).size());
      RunnerIT.assertSafe(night);
    }
  }

  /** The lid is closed once for five hours, after so much of the run. */
  private static RunObserver closedAt(SimulatedNight night, Duration after) {
    return new RunObserver() {
      private boolean done;

      @Override
      public void waiting(String why, Optional<Duration> left) {
        if (!done && night.clock().elapsed().compareTo(after) > 0) {
          done = true;
          night.clock().suspend(Duration.ofHours(5));
        }
      }
    };
  }

  @Test
  void summerTimeEndsAndBeginsAndNothingElseMoves() {
    for (String day : List.of("2026-10-25T00:30:00Z", "2026-03-29T00:30:00Z")) {
      VirtualClock clock = new VirtualClock(Instant.parse(day));
      ClockWatch watch = new ClockWatch(clock, ZONE);
      TreeSet<String> texts = new TreeSet<>();
      Duration before = clock.elapsed();
      for (int minute = 0; minute < 60; minute++) {
        pass(clock, Duration.ofMinutes(1));
        texts.addAll(watch.look().texts());
      }
      boolean autumn = day.contains("-10-");
      assertEquals(
          List.of(
              "local time went from UTC%s to UTC%s; stamps are in UTC, durations are not touched"
                  .formatted(autumn ? "+02:00" : "+01:00", autumn ? "+01:00" : "+02:00")),
          List.copyOf(texts));
      assertEquals(Duration.ofHours(1), clock.elapsed().minus(before));
    }
  }

  private static void pass(TimeSource clock, Duration span) {
    try {
      clock.sleep(span);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void aPauseBetweenTheReadingsOfTwoClocksIsNoJump() {
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    TimeSource paused =
        new TimeSource() {
          @Override
          public Instant now() {
            Instant now = clock.now();
            pass(clock, Duration.ofSeconds(20)); // others had the processor
            return now;
          }

          @Override
          public Duration elapsed() {
            return clock.elapsed();
          }

          @Override
          public void sleep(Duration span) {
            pass(clock, span);
          }
        };
    ClockWatch watch = new ClockWatch(paused, ZONE);
    for (int i = 0; i < 5; i++) {
      assertEquals(List.of(), watch.look().texts());
      clock.jump(Duration.ofHours(i));
      assertEquals(i == 0 ? 0 : 1, watch.look().texts().size());
    }
  }

  @Test
  void aMachineThatIsAwakeNeverSeemsToHaveSlept() {
    SystemClock clock = new SystemClock();
    for (int i = 0; i < 200; i++) {
      assertTrue(clock.asleep().compareTo(Duration.ofMillis(10)) <= 0);
    }
  }
}
