// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.fault.StoppedException;
import millrace.logbook.PlanChange;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.run.control.WhatNext;
import millrace.sequence.Plan.PlannedPoint;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A run whose plan is looked at again between its stays, on a simulated bench in virtual time. */
@Timeout(120)
class ChangedPlanIT {
  private static final String THREE =
      RunnerIT.WARM.replace("[40 degC]", "[40 degC, 30 degC, 35 degC]");

  @TempDir private Path folder;

  private static List<String> keys(WhatNext.Ahead ahead, double degC, PointKind kind) {
    return ahead.toGo().stream()
        .filter(p -> p.conditions().temperatureDegC().orElseThrow() == degC)
        .filter(p -> kind == PointKind.MEASURE ? p.task().word().isEmpty() : true)
        .map(PlannedPoint::key)
        .toList();
  }

  private static PlanChange.Draft draft(PlanChange.Kind kind, List<String> keys) {
    return new PlanChange.Draft(kind, "some points", keys, "a test", "the test");
  }

  /** Before the second stay: not to 30 degC at all, and at 35 degC the loads once more. */
  private static WhatNext changing(List<Integer> asked) {
    return ahead -> {
      asked.add(ahead.toGo().size());
      return asked.size() == 2
          ? new WhatNext.Answer(
              List.of(
                  draft(PlanChange.Kind.LEAVE_OUT, keys(ahead, 30, PointKind.ZERO)),
                  draft(PlanChange.Kind.REPEAT, keys(ahead, 35, PointKind.MEASURE))),
              Optional.empty(),
              Optional.empty())
          : WhatNext.Answer.NOTHING;
    };
  }

  private static List<String> taken(SimulatedNight night) {
    return night.points().stream().filter(p -> p.kind() != PointKind.SOAK).map(Point::key).toList();
  }

  private static void assertAsChanged(SimulatedNight night, RunOutcome outcome) {
    int stay = night.plan().points().size() / 3;
    int loads = stay - 1; // and one zero
    assertTrue(Whole.is(outcome), outcome.toString());
    assertEquals(2 * stay + loads, outcome.complete(), outcome.toString());
    List<String> taken = taken(night);
    assertEquals(taken.size(), taken.stream().distinct().count(), "a point is there twice");
    assertEquals(2 * stay + loads, taken.size());
    assertTrue(taken.stream().noneMatch(k -> k.startsWith("30 degC")), taken.toString());
    assertEquals(loads, taken.stream().filter(k -> k.endsWith(" again")).count());
    assertEquals(2, night.reader().planChanges().size());
  }

  @Test
  void whatIsLeftOutIsNotGoneToAndWhatIsRepeatedStandsBesideTheFirst() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, THREE)) {
      List<Integer> asked = new ArrayList<>();
      night.next(changing(asked));
      RunOutcome outcome = night.run();
      assertAsChanged(night, outcome);
      assertEquals(2, asked.size(), "once before each stay that it was to go to");
      RunnerIT.assertSafe(night);
    }
  }

  @Test
  void aRunThatIsResumedHasThePlanThatWasChanged() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, THREE)) {
      List<Integer> asked = new ArrayList<>();
      int stay = night.plan().points().size() / 3;
      StopRequest stop = night.stop();
      night.next(changing(asked));
      // a soak is a point too, before each stay
      night.observe(RunnerIT.after(stay + 3, () -> stop.stop(StoppedException.Signal.INT)));
      assertThrows(StoppedException.class, night::run);
      night.reopen();
      night.next(WhatNext.AS_PLANNED);
      assertAsChanged(night, night.run());
    }
  }

  @Test
  void aPlanThatCannotBeLookedAtIsGoneOnWithAndThatIsSaid() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      night.next(
          ahead ->
              new WhatNext.Answer(
                  List.of(), Optional.of("1 of 2"), Optional.of("the file is gone")));
      assertTrue(Whole.is(night.run()));
      assertEquals(
          List.of("the plan was not looked at again: the file is gone"),
          night.incidents(IncidentKind.CAUTION));
      assertEquals(List.of("1 of 2"), night.incidents(IncidentKind.NOTE));
    }
  }

  @Test
  void aStopIsHeardWhileItIsComputed() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      StopRequest stop = night.stop();
      night.next(
          ahead -> {
            stop.stop(StoppedException.Signal.INT);
            return WhatNext.Answer.NOTHING;
          });
      assertThrows(StoppedException.class, night::run);
      assertEquals(List.of(), taken(night));
      RunnerIT.assertSafe(night);
    }
  }
}
