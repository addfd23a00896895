// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.fault.StoppedException;
import millrace.logbook.PlanChange;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.RunRequestFile;
import millrace.run.control.RunRequestFile.Asked;
import millrace.run.control.RunRequestFile.Asker;
import millrace.run.control.RunRequestFile.Request;
import millrace.run.control.StopRequest;
import millrace.run.soak.SoakProgress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** What somebody at another terminal wishes of a run on a simulated bench in virtual time. */
@Timeout(120)
class RunRequestFileIT {
  @TempDir private Path folder;

  @Test
  void aTemperatureIsSkippedFromAnotherTerminal() throws IOException {
    String two = RunnerIT.WARM.replace("[40 degC]", "[40 degC, 30 degC]");
    try (SimulatedNight night = SimulatedNight.of(folder, two)) {
      RunRequestFile terminal = RunRequestFile.of(folder.resolve("night.db"), 1);
      night.observe(RunnerIT.after(1, () -> terminal.ask(Request.SKIP_TEMPERATURE)));
      RunOutcome outcome = night.run();
      assertTrue(outcome.skipped() > 0 && outcome.toGo() == 0, outcome.toString());
      for (Point p : notEmpty(night.points())) {
        boolean warm = p.conditions().temperatureDegC().orElse(0) == 40;
        assertTrue(warm || p.state() == PointState.COMPLETE, p.toString());
      }
      assertEquals(
          List.of("asked from another terminal: skip temperature"),
          night.incidents(IncidentKind.OPERATOR));
      RunnerIT.assertSafe(night);
    }
  }

  @Test
  void aPauseLastsUntilItIsTakenBackAndTakesNoPointMeanwhile() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT)) {
      RunRequestFile terminal = RunRequestFile.of(folder.resolve("night.db"), 1);
      night.observe(RunnerIT.after(2, () -> terminal.ask(Request.PAUSE)));
      night.observe(
          new RunObserver() {
            private int looks;

            @Override
            public void waiting(String why, Optional<Duration> left) {
              if (++looks == 5) {
                assertEquals(2, night.points().size());
                terminal.ask(Request.CONTINUE);
              }
            }
          });
      assertTrue(Whole.is(night.run()));
      assertEquals(2, night.incidents(IncidentKind.OPERATOR).size());
      assertEquals(List.of(), night.incidents(IncidentKind.CAUTION));
    }
  }

  /** Does something when a unit has been looked at so often while it soaks. */
  private static RunObserver atLook(int look, Runnable act) {
    return new RunObserver() {
      private int looks;

      @Override
      public void waiting(String why, Optional<Duration> left) {
        if (why.startsWith("soaking") && ++looks == look) {
          act.run();
        }
      }
    };
  }

  private RunRequestFile terminal() {
    return RunRequestFile.of(folder.resolve("night.db"), 1);
  }

  @Test
  void aSoakIsSkippedWhileItLasts() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      RunRequestFile terminal = terminal();
      night.observe(atLook(3, () -> terminal.ask(Request.SKIP_TEMPERATURE)));
      RunOutcome outcome = night.run();
      assertEquals(5, outcome.skipped());
      Point soak = night.points().get(0);
      assertEquals(PointState.FLAGGED, soak.state());
      assertEquals("the soak was skipped from another terminal", soak.reason());
      // three looks, 45 s apart while the unit is far
      assertTrue(soak.ended().minus(soak.started()).toSeconds() < 180, soak.toString());
      RunnerIT.assertSafe(night);
    }
  }

  @Test
  void aPauseThatIsWishedWhileItSoaksHoldsTheTemperatureAndTakesNoPoint() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      RunRequestFile terminal = terminal();
      night.observe(atLook(2, () -> terminal.ask(Request.PAUSE)));
      List<Integer> taken = new ArrayList<>();
      night.observe(
          new RunObserver() {
            @Override
            public void waiting(String why, Optional<Duration> left) {
              if (why.startsWith("paused") && taken.size() < 4) {
                taken.add(night.points().size());
                if (taken.size() == 4) {
                  terminal.ask(Request.CONTINUE);
                }
              }
            }
          });
      assertTrue(Whole.is(night.run()));
      assertEquals(List.of(1, 1, 1, 1), taken); // the soak alone
    }
  }

  private static Asked one(double degC) {
    return new Asked(Request.ADD_TEMPERATURE, OptionalDouble.of(degC), Asker.UNKNOWN);
  }

  private static List<Double> measuredAt(SimulatedNight night) {
    return night.points().stream()
        .filter(p -> p.kind() == PointKind.MEASURE)
        .map(p -> p.conditions().temperatureDegC().orElseThrow())
        .distinct()
        .toList();
  }

  @Test
  void aTemperatureIsAddedBehindTheOneUnderWay() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(folder, RunnerIT.WARM.replace("[40 degC]", "[40 degC, 30 degC]"))) {
      RunRequestFile terminal = terminal();
      night.observe(RunnerIT.after(1, () -> terminal.ask(one(33.5))));
      RunOutcome outcome = night.run();
      assertTrue(Whole.is(outcome), outcome.toString());
      assertEquals(List.of(40.0, 33.5, 30.0), measuredAt(night));
      assertTrue(night.points().stream().anyMatch(p -> p.key().equals("33.5 degC added/1mA/zero")));
      assertEquals(
          List.of("asked from another terminal: add temperature 33.5 degC"),
          night.incidents(IncidentKind.OPERATOR));
      RunnerIT.assertSafe(night);
    }
  }

  @Test
  void aResumeKnowsWhatWasAdded() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      RunRequestFile terminal = terminal();
      StopRequest stop = night.stop();
      night.observe(atLook(2, () -> terminal.ask(one(33.5))));
      night.observe(RunnerIT.after(2, () -> stop.stop(StoppedException.Signal.INT)));
      assertThrows(StoppedException.class, night::run);
      assertTrue(Whole.is(night.run()));
      assertEquals(List.of(40.0, 33.5), measuredAt(night));
    }
  }

  @Test
  void whatWasSkippedStaysSkippedWhenTheRunIsResumed() throws IOException {
    String two = RunnerIT.WARM.replace("[40 degC]", "[40 degC, 30 degC]");
    try (SimulatedNight night = SimulatedNight.of(folder, two)) {
      RunRequestFile terminal = terminal();
      StopRequest stop = night.stop();
      Asker ada = new Asker("Ada", "the chamber\tis needed");
      night.observe(
          atLook(
              3,
              () ->
                  terminal.ask(new Asked(Request.SKIP_TEMPERATURE, OptionalDouble.empty(), ada))));
      night.observe(atLook(5, () -> stop.stop(StoppedException.Signal.INT)));
      assertThrows(StoppedException.class, night::run);
      RunOutcome outcome = night.run();
      int half = night.plan().points().size() / 2;
      assertEquals(half, outcome.skipped(), outcome.toString());
      assertEquals(half, outcome.complete(), outcome.toString());
      List<String> keys =
          night.points().stream().filter(p -> p.kind() != PointKind.SOAK).map(Point::key).toList();
      assertEquals(2 * half, keys.size(), keys.toString());
      assertEquals(keys.size(), Set.copyOf(keys).size(), "a point is there twice");
      assertEquals(
          List.of(30.0),
          night.points().stream()
              .filter(p -> p.kind() == PointKind.MEASURE && p.state() == PointState.COMPLETE)
              .map(p -> p.conditions().temperatureDegC().orElseThrow())
              .distinct()
              .toList());
      List<PlanChange> changes = night.reader().planChanges();
      assertEquals(1, changes.size());
      PlanChange skip = changes.get(0);
      assertEquals(PlanChange.Kind.SKIP_TEMPERATURE, skip.kind());
      assertEquals("what is left of stay 1, 40 degC", skip.words());
      assertEquals("the chamber is needed", skip.reason());
      assertEquals("Ada", skip.who());
    }
  }

  @Test
  void howFarASoakIsCanBeToldFromTheLogbookAlone() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      List<SoakProgress> seen = new ArrayList<>();
      for (int look : new int[] {4, 20, 45}) {
        night.observe(
            atLook(
                look,
                () ->
                    SoakProgress.of(night.reader(), night.plan(), night.datasheet())
                        .ifPresent(seen::add)));
      }
      night.run();
      assertEquals(3, seen.size());
      assertTrue(seen.get(0).leftRatio().isEmpty(), "four samples tell nothing yet");
      SoakProgress late = seen.get(2);
      assertEquals(40, late.setpointDegC());
      assertEquals(40, late.unitDegC().orElseThrow(), 2);
      assertEquals(5e-6, late.askedRatio(), 1e-12);
      assertTrue(late.leftRatio().orElseThrow() < seen.get(1).leftRatio().orElseThrow());
      assertEquals(
          Duration.ofHours(3).minusSeconds(1170).toSeconds(), late.bound().toSeconds(), 300);
    }
  }
}
