// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.FutureTask;
import java.util.function.UnaryOperator;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.fault.BadInputException;
import millrace.fault.InterlockException;
import millrace.fault.LogbookException;
import millrace.run.control.RunObserver;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtQuestion;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Interlocks over sockets to a simulated bench in virtual time. */
@Timeout(120)
class InterlocksIT {
  private static final String AT =
      """
      sequence: one temperature
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - at temperatures: [%s]
          soak: {within: 5 ppm, at least: 10 min, at most: 3 h}
          do:
            - in ranges: [1mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %%, 50 %%]}
      """;

  private static final String WARM = AT.formatted("40 degC");
  private static final String COLD = AT.formatted("5 degC");

  private static final String IDLE =
      """
      sequence: a long wait
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - wait: 1 h
      """;

  @TempDir private Path folder;

  private static FaultPlan once(Kind kind, String instrument, Duration when) {
    return FaultPlan.of(SimFault.of(kind, instrument, new AtTime(when)));
  }

  private String breach(String sequence, FaultPlan faults, UnaryOperator<String> edit)
      throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, sequence, faults, edit)) {
      String text = assertThrows(InterlockException.class, night::run).getMessage();
      assertEquals(List.of(text), night.incidents(IncidentKind.BREACH));
      assertEquals(List.of(), night.bench().unsafe());
      return text;
    }
  }

  @Test
  void aTemperatureThatChangesTooFastStopsTheRun() throws IOException {
    String text =
        breach(
            WARM,
            once(Kind.DOOR_OPEN, "chamber", Duration.ofMinutes(12)),
            t -> t.replace("chamber rate: 20 K/min", "chamber rate: 5 K/min"));
    assertTrue(text.contains("interlock: rate of the chamber temperature is -"), text);
    assertTrue(text.contains("expected from -5 K/min to 5 K/min"), text);
  }

  /** Twenty-three or more degrees times four are above the highest of 75 degrees. */
  @Test
  void oneWildReadingIsAskedAgainAndStopsNothing() throws IOException {
    FaultPlan wild =
        FaultPlan.of(
            new SimFault(Kind.WILD_READING, "chamber", new AtQuestion(6), 1, 3, Duration.ZERO));
    try (SimulatedNight night = SimulatedNight.of(folder, WARM, wild)) {
      assertTrue(Whole.is(night.run()));
      List<String> cautions = night.incidents(IncidentKind.CAUTION);
      assertEquals(1, cautions.size(), cautions::toString);
      assertTrue(
          cautions.get(0).startsWith("interlock: chamber temperature was 9"), cautions.get(0));
      assertTrue(cautions.get(0).endsWith("taken for a wrong reading"), cautions.get(0));
    }
  }

  @Test
  void aWildReadingThatCannotBeHadAgainStopsTheRun() throws IOException {
    FaultPlan wildThenSilent =
        new FaultPlan(
            List.of(
                new SimFault(Kind.WILD_READING, "chamber", new AtQuestion(6), 1, 3, Duration.ZERO),
                new SimFault(Kind.SILENCE, "chamber", new AtQuestion(7), 1, 1, Duration.ZERO)));
    String text = breach(WARM, wildThenSilent, t -> t.replace("  chamber alarm: yes\n", ""));
    assertTrue(text.contains("interlock: chamber temperature is 9"), text);
  }

  @Test
  void aColdChamberWhoseDoorIsOpenedStopsTheRun() throws IOException {
    String text = breach(COLD, once(Kind.DOOR_OPEN, "chamber", Duration.ofMinutes(20)), t -> t);
    assertTrue(text.contains("interlock: chamber temperature is "), text);
    assertTrue(text.contains("with the door open; expected at least "), text);
  }

  @Test
  void aChamberIsNotCooledWhileItsDoorIsOpen() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(folder, COLD, once(Kind.DOOR_OPEN, "chamber", Duration.ZERO))) {
      String text = assertThrows(InterlockException.class, night::run).getMessage();
      assertTrue(text.contains("setpoint of the chamber is 5.000 degC with the door open"), text);
      assertEquals(List.of(), night.bench().mistreatments());
    }
  }

  @Test
  void anAlarmOfTheChamberStopsTheRun() throws IOException {
    String text = breach(WARM, once(Kind.CHAMBER_ALARM, "chamber", Duration.ofMinutes(20)), t -> t);
    assertTrue(
        text.startsWith("interlock: chamber alarm is 'PROTECTION TRIPPED'; expected none. "), text);
  }

  @Test
  void aGarbledReplyToTheAlarmIsAskedAgain() throws IOException {
    FaultPlan garbled =
        FaultPlan.of(
            new SimFault(
                Kind.GARBAGE, "chamber", new AtTime(Duration.ofMinutes(10)), 1, 1, Duration.ZERO));
    String only = "  chamber alarm: yes\n";
    try (SimulatedNight night =
        SimulatedNight.of(
            folder, IDLE, garbled, t -> t.replaceAll("(?s)  chamber temp.*(?=  look)", only))) {
      assertTrue(Whole.is(night.run()));
      List<String> cautions = night.incidents(IncidentKind.CAUTION);
      assertEquals(1, cautions.size(), cautions::toString);
      assertTrue(cautions.get(0).startsWith("interlock: chamber alarm was "), cautions.get(0));
    }
  }

  @Test
  void aChamberThatCannotTellItsAlarmIsRefusedWhereThatIsWatched() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(
            folder, WARM, t -> t.replace("driver: plain chamber", "driver: by hand"))) {
      String text = assertThrows(BadInputException.class, night::run).getMessage();
      assertTrue(
          text.contains(
              "there is an interlock on the chamber's alarm, but driver 'by hand' cannot ask for"
                  + " it; expected a driver with 'alarm:' in its chamber role, or no 'chamber"
                  + " alarm'"),
          text);
    }
  }

  @Test
  void tooDryAirStopsTheRun() throws IOException {
    String text =
        breach(
            WARM,
            FaultPlan.NONE,
            t -> t.replace("  free disk", "  humidity: [60 %, 90 %]\n  free disk"));
    assertTrue(text.contains("room humidity is 44"), text);
    assertTrue(text.contains("expected from 60 % to 90 %"), text);
  }

  @Test
  void theEndOfTheHoursStopsTheRun() throws IOException {
    LocalTime evening =
        LocalTime.ofInstant(SimulatedNight.EVENING, ZoneId.systemDefault()).withSecond(0);
    String hours = "['%s', '%s']".formatted(evening.minusHours(9), evening.plusMinutes(12));
    String text =
        breach(
            WARM,
            FaultPlan.NONE,
            t -> t.replace("  free disk", "  hours: " + hours + "\n  free disk"));
    assertTrue(text.contains("interlock: time of the day is " + evening.plusMinutes(12)), text);
  }

  /** While the meter is silent the hours pass, and the unit grows hot. */
  @Test
  void aBreachActsWhileAReplyIsStillWaitedFor() throws Exception {
    FaultPlan plan =
        new FaultPlan(
            List.of(
                SimFault.of(Kind.SILENCE, "ammeter", new AtQuestion(30)),
                new SimFault(
                    Kind.SENSOR_OFFSET,
                    "thermometer",
                    new AtTime(Duration.ofHours(20)),
                    1,
                    60,
                    Duration.ZERO)));
    try (SimulatedNight night = SimulatedNight.of(folder, WARM, plan)) {
      night.waitingFor("60 s");
      FutureTask<Boolean> hours = new FutureTask<>(() -> passOnceSilent(night));
      new Thread(hours, "hours").start();
      String text = assertThrows(InterlockException.class, night::run).getMessage();
      assertTrue(hours.get());
      assertTrue(text.startsWith("interlock: unit temperature is "), text);
      assertEquals(List.of(), night.incidents(IncidentKind.RETRY));
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  private static boolean passOnceSilent(SimulatedNight night) throws InterruptedException {
    while (night.bench().struck().stream().noneMatch(s -> s.fault().kind() == Kind.SILENCE)) {
      Thread.onSpinWait();
    }
    night.clock().sleep(Duration.ofHours(20));
    return true;
  }

  /**
   * While nothing else is asked the chamber falls silent for a minute of real time, in which no
   * simulated time passes; at the same instant the unit is hot. What was seen when: no chamber that
   * was given up before, and the breach within one polling period of the simulation's clock.
   */
  @Test
  void anInterlockWhoseLinkIsSlowDelaysNoOther() throws IOException {
    AtTime when = new AtTime(Duration.ofMinutes(10).plusSeconds(5));
    FaultPlan plan =
        new FaultPlan(
            List.of(
                SimFault.of(Kind.SILENCE, "chamber", when),
                new SimFault(Kind.SENSOR_OFFSET, "thermometer", when, 1, 60, Duration.ZERO)));
    try (SimulatedNight night = SimulatedNight.of(folder, IDLE, plan)) {
      night.waitingFor("60 s");
      String text = assertThrows(InterlockException.class, night::run).getMessage();
      assertTrue(text.startsWith("interlock: unit temperature is "), text);
      assertEquals(List.of(), night.incidents(IncidentKind.CAUTION));
      Duration breach =
          night.reader().incidents().stream()
              .filter(i -> i.kind() == IncidentKind.BREACH)
              .map(i -> i.elapsed())
              .findFirst()
              .orElseThrow();
      Duration since = breach.minus(when.elapsed());
      assertTrue(since.compareTo(Duration.ofSeconds(10)) <= 0, since.toString());
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  @Test
  void anInterlockThatCannotBeWatchedStopsTheRunAfterThreeLooks() throws IOException {
    FaultPlan plan =
        FaultPlan.of(
            new SimFault(
                Kind.SILENCE, "room", new AtTime(Duration.ofMinutes(5)), 1000, 1, Duration.ZERO));
    try (SimulatedNight night =
        SimulatedNight.of(
            folder, WARM, plan, t -> t.replace("  free disk", "  humidity: 70 %\n  free disk"))) {
      String text = assertThrows(InterlockException.class, night::run).getMessage();
      assertTrue(
          text.contains(
              "the interlock on the room humidity cannot be watched, which was so at 3 looks in a"
                  + " row: "),
          text);
      assertTrue(text.contains(". The bench goes to its safe state."), text);
      assertFalse(text.contains(".;") || text.contains(".."), text);
      assertEquals(2, night.incidents(IncidentKind.CAUTION).size());
    }
  }

  @Test
  void aChamberWhoseLinkBreaksWhileItSoaksIsSentThereAgain() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(folder, WARM, once(Kind.REBOOT, "chamber", Duration.ofMinutes(7)))) {
      assertTrue(Whole.is(night.run()));
      List<PointState> soaks =
          night.points().stream()
              .filter(p -> p.kind() == PointKind.SOAK)
              .map(p -> p.state())
              .toList();
      assertEquals(PointState.COMPLETE, soaks.get(soaks.size() - 1));
      assertTrue(soaks.stream().noneMatch(s -> s == PointState.OPEN), soaks.toString());
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  @Test
  void aLogbookThatIsMovedAwayStopsTheRunWhichGoesOnWhenItIsBack() throws IOException {
    Path logbook = folder.resolve("night.db");
    Path elsewhere = folder.resolve("elsewhere.db");
    try (SimulatedNight night = SimulatedNight.of(folder, WARM)) {
      night.observe(movingOnce(logbook, elsewhere));
      String text = assertThrows(LogbookException.class, night::run).getMessage();
      assertTrue(text.contains("night.db' is not where it was any more"), text);
      assertEquals(List.of(), night.bench().unsafe());
      Files.move(elsewhere, logbook);
      night.reopen();
      assertTrue(Whole.is(night.run()));
    }
  }

  /** The file is moved while a unit soaks. */
  private static RunObserver movingOnce(Path from, Path to) {
    return new RunObserver() {
      @Override
      public void waiting(String why, Optional<Duration> left) {
        if (Files.notExists(to)) {
          assertTrue(from.toFile().renameTo(to.toFile()));
        }
      }
    };
  }
}
