// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.StoppedException;
import millrace.fault.UnsafeBenchException;
import millrace.logbook.RunState;
import millrace.quantity.NumberText;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.run.journal.ResumeState;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtQuestion;
import millrace.sim.fault.SimFault.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The runner over sockets to a simulated bench in virtual time. */
@Timeout(120)
class RunnerIT {
  static final String SHORT =
      """
      sequence: a short run
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      on failure: stop
      steps:
        - in ranges: [1mA, 100uA]
          do:
            - zero
            - over loads: {share of compliance: [0 %, 25 %, 50 %, 75 %]}
      """;

  static final String KNEE =
      """
      sequence: a knee
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - find the knee: {to: 50 mV, up to: 130 %}
            - over loads: {share of compliance: [0 %, 50 %]}
      """;

  static final String WARM =
      """
      sequence: a warm run
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - at temperatures: [40 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 3 h}
          do:
            - in ranges: [1mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 50 %]}
      """;

  @TempDir private Path folder;

  /** Does something once, when so many points are in the logbook. */
  static RunObserver after(int points, Runnable act) {
    return new RunObserver() {
      private int seen;

      @Override
      public void committed(Point point, List<Reading> readings) {
        if (++seen == points) {
          act.run();
        }
      }
    };
  }

  static void assertSafe(SimulatedNight night) {
    assertEquals(List.of(), night.bench().unsafe());
    assertEquals(List.of(), night.bench().mistreatments());
    assertEquals(
        List.of("the bench is in its safe state"), night.incidents(IncidentKind.SAFE_STATE));
  }

  @Test
  void endsSafeWithEveryPointInTheLogbook() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      RunOutcome outcome = night.run();
      assertTrue(Whole.is(outcome), outcome.toString());
      assertEquals(night.plan().points().size(), night.points().size());
      assertEquals(RunState.COMPLETE, night.reader().summary().state());
      assertSafe(night);
    }
  }

  @Test
  void keepsTheLeastStepOfTheMetersRangeWithEachPoint() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      night.run();
      Map<String, String> steps = Map.of("1mA", "1e-9", "100uA", "1e-10");
      for (Point point : notEmpty(night.points())) {
        double step = point.settings().currentMeter().resolution().orElseThrow();
        double expected =
            NumberText.parse(steps.get(point.conditions().range().orElseThrow())).orElseThrow();
        assertEquals(expected, step, 1e-18, point.key());
      }
    }
  }

  @Test
  void takesTheZeroOfTheRangeOffEachReading() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      night.run();
      Map<String, Double> zeros = new HashMap<>();
      for (Point point : notEmpty(night.points())) {
        List<Reading> currents = counted(night, point);
        if (point.kind() == PointKind.ZERO) {
          zeros.put(point.conditions().range().orElseThrow(), mean(currents));
        } else {
          double zero = zeros.get(point.conditions().range().orElseThrow());
          notEmpty(currents).forEach(r -> assertEquals(zero, r.zero().orElseThrow(), 1e-18));
        }
      }
      assertEquals(2, zeros.size());
    }
  }

  private static List<Reading> currents(SimulatedNight night, Point point) {
    return night.reader().readings(point.id()).stream()
        .filter(r -> r.signal() == MeasuredSignal.CURRENT && r.value().isPresent())
        .toList();
  }

  private static List<Reading> counted(SimulatedNight night, Point point) {
    return currents(night, point).stream().filter(r -> r.state() == ReadingState.NUMBER).toList();
  }

  /** Mean of what counted at the zero of each range. */
  private static Map<String, Double> zeros(SimulatedNight night) {
    Map<String, Double> zeros = new HashMap<>();
    night.points().stream()
        .filter(p -> p.kind() == PointKind.ZERO)
        .forEach(p -> zeros.put(p.conditions().range().orElseThrow(), mean(counted(night, p))));
    return zeros;
  }

  private static FaultPlan slowSource(double timeConstantS, Duration from) {
    return FaultPlan.of(
        new SimFault(
            Kind.SLOW_SOURCE,
            "selector",
            new SimFault.AtTime(from),
            1,
            timeConstantS,
            Duration.ZERO));
  }

  private static String withoutSwitch(String bench) {
    return bench
        .replaceFirst("(?s)  switch:\n.*?(?=\nwiring:)", "")
        .replaceFirst("(?s)check standards:\n.*?(?=\n[a-z])", "")
        .replace(", switch]", "]")
        .replaceFirst("(?m)^slots:.*$", "");
  }

  /** A source with a time constant of 0.5 s needs 8 s to die away to 0.1 ppm. */
  @Test
  void theRestOfASlowSourceNeverBecomesAZero() throws IOException {
    String slow =
        SHORT
            .replace("wait: 100 ms", "wait: 100 ms, within: 2 ppm")
            .replace("steps:\n", "steps:\n  - trial lap\n");
    Map<String, Double> quick;
    try (SimulatedNight night =
        SimulatedNight.of(
            Files.createDirectory(folder.resolve("quick")), slow, RunnerIT::withoutSwitch)) {
      night.run();
      quick = zeros(night);
    }
    try (SimulatedNight night =
        SimulatedNight.of(folder, slow, slowSource(0.5, Duration.ZERO), RunnerIT::withoutSwitch)) {
      night.run();
      assertEquals(
          List.of(), night.points().stream().map(Point::reason).filter(r -> !r.isEmpty()).toList());
      Map<String, Double> zeros = zeros(night);
      assertEquals(quick.get("1mA"), zeros.get("1mA"), 5e-6 * 1e-3);
      assertEquals(quick.get("100uA"), zeros.get("100uA"), 5e-6 * 100e-6);
    }
  }

  private static final String ZERO_LATER =
      """
      sequence: a zero after a reading
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {share of compliance: [50 %]}
            - wait: 10 s
            - zero
            - over loads: {share of compliance: [50 %]}
      """;

  @Test
  void aZeroWithTheSourceStillOnIsFlaggedAndNotUsed() throws IOException {
    FaultPlan stays = slowSource(1e9, Duration.ofSeconds(5));
    try (SimulatedNight night =
        SimulatedNight.of(folder, ZERO_LATER, stays, RunnerIT::withoutSwitch)) {
      night.run();
      Point zero =
          night.points().stream().filter(p -> p.kind() == PointKind.ZERO).findFirst().orElseThrow();
      assertEquals(PointState.FLAGGED, zero.state());
      assertTrue(zero.reason().contains("mA flows with the source off"), zero.reason());
      Point last = night.points().get(night.points().size() - 1);
      notEmpty(counted(night, last)).forEach(r -> assertTrue(r.zero().isEmpty(), r.toString()));
      assertEquals(PointState.COMPLETE, night.points().get(0).state());
      assertEquals(WITHOUT_ZERO, last.reason());
      assertEquals(Set.of("1mA"), ResumeState.of(night.reader()).wanting(), "when it is resumed");
    }
  }

  private static final String WITHOUT_ZERO =
      "the zero before it could not be taken, so that none is taken off";

  private static List<String> reasons(SimulatedNight night, PointKind kind) {
    return night.points().stream().filter(p -> p.kind() == kind).map(Point::reason).toList();
  }

  @Test
  void aZeroThatIsLeftOutFlagsThePointsThatWereToHaveIt() throws IOException {
    String goesOn = SHORT.replace("on failure: stop", "on failure: go on flagged");
    SimFault silent = SimFault.of(Kind.SILENCE, "ammeter", new AtQuestion(9));
    SimFault thrice = new SimFault(silent.kind(), "ammeter", silent.when(), 3, 1, Duration.ZERO);
    try (SimulatedNight night = SimulatedNight.of(folder, goesOn, FaultPlan.of(thrice))) {
      night.run();
      Point zero = night.points().get(0);
      assertEquals(PointState.SKIPPED, zero.state(), zero.toString());
      assertEquals(
          List.of(WITHOUT_ZERO, ""),
          reasons(night, PointKind.MEASURE).stream().distinct().toList());
      assertEquals(Set.of("1mA"), ResumeState.of(night.reader()).wanting(), "when it is resumed");
    }
  }

  private static double mean(List<Reading> readings) {
    return readings.stream().mapToDouble(r -> r.corrected().orElseThrow()).average().orElseThrow();
  }

  @Test
  void aStopRequestEndsTheRunBeforeTheNextPoint() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      StopRequest stop = night.stop();
      night.observe(after(4, () -> stop.stop(StoppedException.Signal.TERM)));
      StoppedException stopped = assertThrows(StoppedException.class, night::run);
      assertEquals(StoppedException.Signal.TERM, stopped.signal());
      assertTrue(stopped.getMessage().contains("millrace run --resume 1"), stopped.getMessage());
      assertEquals(4, night.points().size());
      assertSafe(night);
    }
  }

  @Test
  void aWarmChamberIsSentBackWhenTheRunIsStoppedWhileItSoaks() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, WARM)) {
      StopRequest stop = night.stop();
      night.observe(
          new RunObserver() {
            @Override
            public void waiting(String why, java.util.Optional<Duration> left) {
              stop.stop(StoppedException.Signal.INT);
            }
          });
      assertThrows(StoppedException.class, night::run);
      assertSafe(night);
      assertTrue(Whole.is(night.run()));
      assertEquals(2, night.points().stream().filter(p -> p.kind() == PointKind.SOAK).count());
      assertEquals(Set.of(PointState.COMPLETE), night.reader().pointStates().keySet());
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  @Test
  void aBreachStopsTheRunAndSaysWhatWasFound() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(
            folder, SHORT, t -> t.replace("terminal voltage: 20 V", "terminal voltage: 5 V"))) {
      InterlockException breach = assertThrows(InterlockException.class, night::run);
      assertTrue(breach.getMessage().contains("expected at most 5 V"), breach.getMessage());
      assertEquals(List.of(breach.getMessage()), night.incidents(IncidentKind.BREACH));
      assertTrue(notEmpty(night.points()).stream().noneMatch(p -> voltage(p) > 5));
      assertSafe(night);
    }
  }

  private static double voltage(Point p) {
    return p.conditions().loadOhm().orElse(0) * p.conditions().nominalA().orElse(0);
  }

  @Test
  void aBreachActsWithinOnePollingPeriodWhileItSoaks() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(
            folder,
            WARM,
            t ->
                t.replace(
                    "chamber temperature: [-20 degC, 75 degC]",
                    "chamber temperature: [-20 degC, 30 degC]"))) {
      InterlockException breach = assertThrows(InterlockException.class, night::run);
      assertTrue(breach.getMessage().contains("chamber temperature is 30"), breach.getMessage());
      assertSafe(night);
    }
  }

  /** From this question on it does not answer any more. */
  private static FaultPlan lost(String instrument, int question) {
    return FaultPlan.of(
        new SimFault(Kind.SILENCE, instrument, new AtQuestion(question), 1000, 1, Duration.ZERO));
  }

  @Test
  void aLostMeterEndsTheRunAfterItsRetriesWithTheSourceOff() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT, lost("ammeter", 30))) {
      InstrumentException lost = assertThrows(InstrumentException.class, night::run);
      assertTrue(lost.getMessage().contains("'ammeter'"), lost.getMessage());
      assertEquals(3, night.incidents(IncidentKind.RETRY).size());
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  /** The link is in step again before the point is begun again, which is then taken once. */
  @Test
  void oneLostReplyCostsOneRetry() throws IOException {
    FaultPlan once = FaultPlan.of(SimFault.of(Kind.SILENCE, "ammeter", new AtQuestion(30)));
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT, once)) {
      assertTrue(Whole.is(night.run()));
      List<String> retries = night.incidents(IncidentKind.RETRY);
      assertEquals(1, retries.size(), retries::toString);
    }
  }

  @Test
  void everyOtherInstrumentIsMadeSafeWhenOneCannotBeReached() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT, lost("selector", 8))) {
      InstrumentException lost = assertThrows(InstrumentException.class, night::run);
      UnsafeBenchException unsafe = (UnsafeBenchException) lost.getSuppressed()[0];
      assertTrue(unsafe.getMessage().contains("'selector'"), unsafe.getMessage());
      assertTrue(unsafe.getMessage().contains("Switch these off by hand now."));
      assertFalse(night.bench().unsafe().contains("the supply is on"));
      assertTrue(
          night.incidents(IncidentKind.SAFE_STATE).get(0).startsWith("THE BENCH MAY NOT BE SAFE"));
    }
  }

  @Test
  void theBenchIsSafeWhateverGoesWrongInside() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      night.observe(
          new RunObserver() {
            @Override
            public void point(PlannedPoint point, Ahead ahead) {
              if (point.number() == 4) {
                throw new StackOverflowError("as if a program fault had struck");
              }
            }
          });
      assertThrows(StackOverflowError.class, night::run);
      assertSafe(night);
    }
  }

  @Test
  void anObserverThatThrowsIsNotedAndTheRunGoesOn() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      night.observe(
          after(
              2,
              () -> {
                throw new IllegalStateException("the page is gone");
              }));
      assertTrue(Whole.is(night.run()));
      List<String> cautions = night.incidents(IncidentKind.CAUTION);
      assertEquals(1, cautions.size());
      assertTrue(cautions.get(0).contains("the page is gone"), cautions.get(0));
    }
  }

  @Test
  void theKneeIsFoundInABoundedNumberOfSteps() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, KNEE)) {
      night.run();
      long steps =
          night.points().stream()
              .filter(p -> p.kind() == PointKind.MEASURE)
              .filter(p -> p.key().contains("knee"))
              .count();
      // 3 on the plateau, 1 outside, log2(13.5 V / 50 mV) + 2 halvings at most, 1 more outside
      assertTrue(steps >= 8 && steps <= 3 + 1 + 11 + 1, steps + " steps");
    }
  }

  @Test
  void aResumeTakesNoPointTwiceAndLeavesNoneOut() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      for (int after : new int[] {1, 3, 2}) {
        StopRequest stop = night.stop();
        night.observe(after(after, () -> stop.stop(StoppedException.Signal.INT)));
        assertThrows(StoppedException.class, night::run);
      }
      assertEquals(6, night.points().size());
      assertTrue(Whole.is(night.run()));
      assertKeysOfPlan(night);
      assertEquals(3, night.incidents(IncidentKind.RESUMED).size());
    }
  }

  private static void assertKeysOfPlan(SimulatedNight night) {
    List<String> keys = night.points().stream().map(Point::key).toList();
    assertEquals(night.plan().points().stream().map(PlannedPoint::key).toList(), keys);
  }

  @Test
  void aKneeThatWasFoundIsNotSearchedAgainByAResume() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, KNEE)) {
      int last = night.plan().points().size();
      StopRequest stop = night.stop();
      night.observe(
          new RunObserver() {
            @Override
            public void point(PlannedPoint point, Ahead ahead) {
              if (point.number() == last) {
                stop.stop(StoppedException.Signal.INT);
              }
            }
          });
      assertThrows(StoppedException.class, night::run);
      assertTrue(Whole.is(night.run()));
      Set<String> keys = new HashSet<>();
      notEmpty(night.points())
          .forEach(p -> assertTrue(keys.add(p.key()), p.key() + " is there twice"));
    }
  }

  @Test
  void aResumedRunAgreesWithOneThatWasNotDisturbed() throws IOException {
    Map<String, Double> calm = new HashMap<>();
    try (SimulatedNight night =
        SimulatedNight.of(java.nio.file.Files.createDirectory(folder.resolve("calm")), SHORT)) {
      night.run();
      night.points().forEach(p -> calm.put(p.key(), mean(currents(night, p))));
    }
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT)) {
      StopRequest stop = night.stop();
      night.observe(after(5, () -> stop.stop(StoppedException.Signal.INT)));
      assertThrows(StoppedException.class, night::run);
      night.run();
      for (Point p : notEmpty(night.points())) {
        double nominal = p.conditions().nominalA().orElseThrow();
        // the noise of one reading at one line cycle is a few ppm; that of the load nothing here
        assertEquals(calm.get(p.key()), mean(currents(night, p)), 20e-6 * nominal, p.key());
      }
    }
  }

  @Test
  void aFlaggedPointIsKeptWithItsReasonAndNotTakenForGood() throws IOException {
    FaultPlan plan = FaultPlan.of(SimFault.of(Kind.NOT_A_NUMBER, "voltmeter", new AtQuestion(9)));
    try (SimulatedNight night = SimulatedNight.of(folder, SHORT, plan)) {
      RunOutcome outcome = night.run();
      assertEquals(0, outcome.toGo());
      long flagged = night.points().stream().filter(p -> p.state() == PointState.FLAGGED).count();
      assertEquals(outcome.flagged(), flagged);
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  @Test
  void aMeterThatGivesNoGoodReadingForTooLongStopsTheRun() throws IOException {
    FaultPlan plan =
        FaultPlan.of(
            new SimFault(
                Kind.NOT_A_NUMBER, "ammeter", new AtQuestion(20), 100_000, 1, Duration.ZERO));
    try (SimulatedNight night =
        SimulatedNight.of(
            folder,
            SHORT,
            plan,
            t ->
                t.replace(
                    "  look every: 10 s", "  without a good reading: 5 s\n  look every: 1 s"))) {
      InterlockException breach = assertThrows(InterlockException.class, night::run);
      assertTrue(
          breach.getMessage().contains("the age of the last good reading"), breach.getMessage());
      assertSafe(night);
    }
  }

  @Test
  void aWaitInTheSequenceIsNotTakenForSilence() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(
            folder,
            SHORT + "  - wait: 1 h\n",
            t ->
                t.replace(
                    "  look every: 10 s", "  without a good reading: 1 min\n  look every: 1 s"))) {
      assertTrue(Whole.is(night.run()));
    }
  }
}
