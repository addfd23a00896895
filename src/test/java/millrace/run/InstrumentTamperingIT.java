// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.fault.InterlockException;
import millrace.run.control.RunObserver;
import millrace.run.control.RunRequestFile;
import millrace.run.control.RunRequestFile.Request;
import millrace.run.journal.ResumeState;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import millrace.sim.truth.SimulatedUnitSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Somebody else speaks to the instruments of a bench on which a run is under way. */
@Timeout(120)
class InstrumentTamperingIT {
  private static final Duration WHEN = Duration.ofSeconds(3);

  @TempDir private Path folder;

  /** A second client, which says one thing and asks until it is done. */
  private static void says(SimulatedNight night, String instrument, String line, String question) {
    int port = night.bench().ports().get(instrument);
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port);
        BufferedReader replies =
            new BufferedReader(
                new InputStreamReader(socket.getInputStream(), StandardCharsets.US_ASCII))) {
      String both = line + "\n" + question + "\n";
      socket.getOutputStream().write(both.getBytes(StandardCharsets.US_ASCII));
      replies.readLine();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String stopped(SimulatedNight night) {
    String text = assertThrows(InterlockException.class, night::run).getMessage();
    assertEquals(List.of(text), night.incidents(IncidentKind.BREACH));
    assertEquals(List.of(), night.bench().unsafe());
    return text;
  }

  private static List<Point> withCurrent(SimulatedNight night) {
    return night.points().stream().filter(p -> p.kind() != PointKind.ZERO).toList();
  }

  @Test
  void aSupplyThatSomebodyElseSwitchesOffFlagsThePointAndEndsTheRun() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT)) {
      night.observe(RunnerIT.after(3, () -> says(night, "supply", "OUTP OFF", "OUTP?")));
      String text = stopped(night);
      assertTrue(
          text.startsWith(
              "changed behind the run's back, since current last flowed:"
                  + " supply 'supply' shows 0 V and was set to "),
          text);
      List<Point> points = withCurrent(night);
      assertEquals(
          List.of(PointState.COMPLETE, PointState.COMPLETE, PointState.FLAGGED),
          points.stream().map(Point::state).toList());
      assertTrue(points.get(2).reason().startsWith("no current flows ("), points.toString());
    }
  }

  /** Points are stored with what it said before; that it is so no more is told with both. */
  @Test
  void aMeterThatSomebodyTurnsInTheMiddleOfASweepIsTold() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT)) {
      night.observe(
          RunnerIT.after(
              3,
              () ->
                  says(night, "ammeter", "SENS:CURR:DC:ZERO:AUTO OFF", "SENS:CURR:DC:ZERO:AUTO?")));
      night.run();
      List<String> told =
          night.incidents(IncidentKind.CAUTION).stream()
              .filter(text -> text.contains("turned it at its panel"))
              .toList();
      assertEquals(1, told.size(), told::toString);
      assertTrue(
          told.get(0).startsWith("the current meter says autozero 0 and said 1, though"),
          told::toString);
    }
  }

  @Test
  void noKneeIsFoundWhereTheSupplyIsOff() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.KNEE)) {
      night.observe(RunnerIT.after(3, () -> says(night, "supply", "OUTP OFF", "OUTP?")));
      assertTrue(stopped(night).contains("supply 'supply' shows 0 V"));
      List<Point> points = withCurrent(night);
      assertEquals(PointState.FLAGGED, points.get(points.size() - 1).state());
      assertEquals(3, points.size(), points::toString);
    }
  }

  @Test
  void whatWasSwitchedDuringAPauseIsReadBackBeforeTheNextPoint() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT)) {
      RunRequestFile terminal = RunRequestFile.of(folder.resolve("night.db"), 1);
      night.observe(RunnerIT.after(3, () -> terminal.ask(Request.PAUSE)));
      night.observe(
          new RunObserver() {
            private int looks;

            @Override
            public void waiting(String why, Optional<Duration> left) {
              looks++;
              if (looks == 2) {
                says(night, "selector", "SOURCE OFF", "SOURCE?");
              } else if (looks == 4) {
                terminal.ask(Request.CONTINUE);
              }
            }
          });
      String text = stopped(night);
      assertTrue(
          text.startsWith(
              "changed behind the run's back, while the run was paused: range selector 'selector'"
                  + " answered \"OFF\" to \"SOURCE?\"; expected a reply that matches '^ON$'. "),
          text);
      assertEquals(3, night.points().size());
    }
  }

  /** What cannot be read back shows itself by the current alone. */
  @Test
  void aUnitThatDiesEndsTheRunAtItsThirdPointWithoutCurrent() throws IOException {
    FaultPlan dies = FaultPlan.of(SimFault.of(Kind.UNIT_DIES, "selector", new AtTime(WHEN)));
    String both = RunnerIT.SHORT.replace("[0 %, 25 %, 50 %, 75 %]", "[0 %, 5 %, 10 %, 15 %, 20 %]");
    try (SimulatedNight night = SimulatedNight.of(folder, both, dies)) {
      String text = stopped(night);
      assertTrue(text.startsWith("no current flows 3 times in a row, where some did"), text);
      List<Point> flagged =
          night.points().stream().filter(p -> p.state() == PointState.FLAGGED).toList();
      assertTrue(
          flagged.stream().filter(p -> p.reason().startsWith("no current flows")).count() == 3,
          flagged.toString());
    }
  }

  /** The resistor of that range is open; the other ranges count all the same. */
  @Test
  void aRangeThatIsDeadEndsNoRun() throws IOException {
    SimulatedUnitSpec good = SimulatedUnitSpec.demo();
    SimulatedUnitSpec open = good.with(good.range("100uA").orElseThrow().resistor().name(), 1e6);
    String three = RunnerIT.SHORT.replace("[1mA, 100uA]", "[1mA, 100uA, 10uA]");
    try (SimulatedNight night = SimulatedNight.of(folder, three, open)) {
      night.run();
      assertEquals(List.of(), night.incidents(IncidentKind.BREACH));
      assertEquals(
          List.of(),
          withCurrent(night).stream()
              .filter(p -> p.state() == PointState.FLAGGED ^ p.key().startsWith("100uA"))
              .map(Point::reason)
              .toList());
    }
  }

  private static final String WATCHED =
      """
      sequence: a watch
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - over loads: {share of compliance: [0 %, 25 %]}
              sweep: up
            - watch: {for: 10 min, every: 1 s}
      """;

  /** The supply is off when the watch begins. */
  @Test
  void aWatchEndsWhereSomebodyElseSwitchedTheSupplyOff() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, WATCHED)) {
      night.observe(RunnerIT.after(3, () -> says(night, "supply", "OUTP OFF", "OUTP?")));
      String text = stopped(night);
      assertTrue(text.contains("supply 'supply' shows 0 V and was set to "), text);
      Point watch = last(night);
      assertEquals(PointKind.TIME_SERIES, watch.kind());
      assertEquals(PointState.FLAGGED, watch.state());
      assertEquals(text, watch.reason());
    }
  }

  private static Point last(SimulatedNight night) {
    return night.points().get(night.points().size() - 1);
  }

  /** What was read until then stays; a run that goes on watches again. */
  @Test
  void aWatchOfAUnitThatDiesEndsAndIsTakenAgainByAResume() throws IOException {
    FaultPlan dies =
        FaultPlan.of(SimFault.of(Kind.UNIT_DIES, "selector", new AtTime(Duration.ofMinutes(2))));
    try (SimulatedNight night = SimulatedNight.of(folder, WATCHED, dies)) {
      String text = stopped(night);
      assertTrue(text.startsWith("no current flows 3 times in a row, where some did"), text);
      Point watch = last(night);
      assertEquals(PointState.FLAGGED, watch.state());
      assertEquals(text, watch.reason());
      long read = night.reader().readings(watch.id()).size();
      assertTrue(read > 60 && watch.ended().toMinutes() == 2, read + ", " + watch);
      assertEquals(
          List.of(false, true),
          List.of(
              ResumeState.of(night.reader()).done().contains(watch.key()),
              ResumeState.of(night.reader()).done().contains(night.points().get(0).key())));
    }
  }

  @Test
  void aSoakEndsWhereSomebodyElseSwitchesTheSupplyOff() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM)) {
      night.observe(atSoak(3, () -> says(night, "supply", "OUTP OFF", "OUTP?")));
      String text = stopped(night);
      assertTrue(text.contains("supply 'supply' shows 0 V and was set to "), text);
      Point soak = last(night);
      assertEquals(PointKind.SOAK, soak.kind());
      assertEquals(PointState.FLAGGED, soak.state());
      assertEquals("the soak was broken off: " + text, soak.reason());
    }
  }

  @Test
  void aSoakOfAUnitThatDiesEndsLongBeforeItsBound() throws IOException {
    FaultPlan dies =
        FaultPlan.of(SimFault.of(Kind.UNIT_DIES, "selector", new AtTime(Duration.ofMinutes(5))));
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM, dies)) {
      String text = stopped(night);
      assertTrue(text.startsWith("no current flows 3 times in a row, where some did"), text);
      assertTrue(last(night).ended().toMinutes() < 15, last(night).toString());
    }
  }

  private static RunObserver atSoak(int look, Runnable act) {
    return new RunObserver() {
      private int looks;

      @Override
      public void waiting(String why, Optional<Duration> left) {
        looks++;
        if (looks == look) {
          act.run();
        }
      }
    };
  }
}
