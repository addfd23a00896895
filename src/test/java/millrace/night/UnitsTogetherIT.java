// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static java.nio.file.attribute.PosixFilePermission.OWNER_READ;
import static java.nio.file.attribute.PosixFilePermission.OWNER_WRITE;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import millrace.bench.role.ReplyTimes;
import millrace.cli.run.StatusCommand;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.fault.StoppedException;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.run.control.BenchTelemetry;
import millrace.run.control.BenchTelemetryFile;
import millrace.run.control.InterlockLook;
import millrace.run.control.RunObserver;
import millrace.run.control.RunRequestFile;
import millrace.terminal.Console;
import millrace.terminal.Terminal;
import millrace.watch.page.RunPieces;
import millrace.watch.page.RunSnapshot;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** Units in one chamber whose soaks end in another way than hoped. */
class UnitsTogetherIT {
  private static final String SEQUENCE =
      """
      sequence: two temperatures
      readings: {count: 3, voltage: 2}
      steps:
        - at temperatures: [23 degC, %s degC]
          soak: {within: 40 ppm, unit within: 1 K, at least: 4 min, at most: %s, if it takes longer: skip}
          while it soaks: {in slots: all, do: {in ranges: 1mA, do: [zero, find the knee]}}
          do: {in slots: all, do: {in ranges: 1mA, do: {over loads: {voltage: [0 V, 5 V, 10 V]}}}}
      """;

  @TempDir private Path folder;

  private Path sequence(String second, String most) throws IOException {
    return Files.writeString(folder.resolve("two.yaml"), SEQUENCE.formatted(second, most));
  }

  private static List<Point> measured(ComparedNight night, int unit) {
    return night.reader(unit).points().stream()
        .filter(p -> p.kind() == PointKind.MEASURE && p.conditions().loadOhm().isPresent())
        .toList();
  }

  @Test
  void aUnitThatGivesNoCurrentAnyMoreDoesNotStopTheOthers() throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("26", "40 min"), 2, 3)) {
      night.observe(
          new RunObserver() {
            @Override
            public void incident(Incident incident) {
              if (incident.kind() == IncidentKind.SOAK) {
                night.die(1);
              }
            }
          });
      night.run();
      assertEquals(12, measured(night, 0).size());
      assertTrue(measured(night, 0).stream().allMatch(p -> p.state() == PointState.COMPLETE));
      List<Point> left = measured(night, 1).subList(6, 12);
      assertTrue(left.stream().allMatch(p -> p.state() == PointState.SKIPPED), left.toString());
      assertTrue(left.get(0).reason().contains("gives no current"), left.get(0).reason());
    }
  }

  /** Asks something of the second unit once its first reading is in the logbook. */
  private RunObserver asking(RunRequestFile.Request request, Runnable then) {
    return new RunObserver() {
      private boolean asked;

      @Override
      public void committed(Point point, List<Reading> readings) {
        if (!asked && point.kind() == PointKind.MEASURE) {
          asked = true;
          RunRequestFile.of(folder.resolve("night-2-3.db"), 2).ask(request);
          then.run();
        }
      }
    };
  }

  @Test
  void whatTheLogbookDoesNotKeepOfTheBenchIsSeenWhileTheNightGoesOnAndNoLonger()
      throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("26", "40 min"), 2, 3)) {
      Path book = folder.resolve("night-2-3.db");
      Map<String, ReplyTimes> seen = new HashMap<>();
      Set<PosixFilePermission> readers = new HashSet<>();
      Set<PosixFilePermission> mine = Set.of(OWNER_READ, OWNER_WRITE);
      Files.setPosixFilePermissions(book, mine);
      Map<String, InterlockLook> looks = new HashMap<>();
      List<String> asked = List.of("chamber temperature", "chamber alarm");
      night.observe(
          new RunObserver() {
            @Override
            public void committed(Point point, List<Reading> readings) {
              BenchTelemetry told = BenchTelemetryFile.read(book, 1);
              readers.addAll(readersOf(folder.resolve("night-2-3.db-bench-1")));
              seen.putAll(told.replies());
              looks.putAll(told.looks());
              if (!looks.keySet().containsAll(asked)) {
                pause();
              }
            }
          });
      night.run();
      assertTrue(
          seen.keySet().containsAll(List.of("ammeter", "voltmeter", "chamber")), seen.toString());
      for (ReplyTimes times : seen.values()) {
        assertTrue(times.replies() >= 1, seen.toString());
        assertTrue(times.last().compareTo(Duration.ZERO) > 0, seen.toString());
        assertTrue(times.longest().compareTo(times.last()) >= 0, seen.toString());
      }
      double chamberDegC = looks.get("chamber temperature").value().orElseThrow();
      assertTrue(chamberDegC > 20 && chamberDegC < 30, looks.toString());
      assertEquals(InterlockLook.state("chamber alarm", "none"), looks.get("chamber alarm"));
      assertEquals(mine, readers, "as the logbook's");
      assertEquals(BenchTelemetry.NONE, BenchTelemetryFile.read(book, 1));
      try (Stream<Path> files = Files.list(folder)) {
        assertTrue(files.noneMatch(f -> f.toString().contains("-bench-")));
      }
    }
  }

  /** The file is written twice a second; a simulated night is over in less. */
  private static void pause() {
    try {
      Thread.sleep(600);
    } catch (InterruptedException stopped) {
      Thread.currentThread().interrupt();
    }
  }

  private static void untilInterrupted() {
    try {
      while (true) {
        Thread.sleep(100);
      }
    } catch (InterruptedException stopped) {
      Thread.currentThread().interrupt();
    }
  }

  @Test
  @Timeout(60)
  void aStopAskedOfTheSecondUnitStopsTheNight() throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("26", "40 min"), 2, 3)) {
      night.observe(asking(RunRequestFile.Request.STOP, UnitsTogetherIT::untilInterrupted));
      StoppedException stopped = assertThrows(StoppedException.class, night::run);
      assertTrue(stopped.getMessage().contains("from another terminal"), stopped.getMessage());
      assertEquals(List.of(), night.mistreatments());
      assertEquals(List.of(), night.unsafe());
    }
  }

  @Test
  void thePageOfOneUnitSaysThatAStopHoldsForTheOthers() throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("26", "40 min"), 2, 3)) {
      List<String> acts = new ArrayList<>();
      night.observe(
          new RunObserver() {
            @Override
            public void committed(Point point, List<Reading> readings) {
              if (acts.isEmpty()) {
                acts.add(actsOf(2));
              }
            }
          });
      night.run();
      String page = acts.get(0);
      assertTrue(page.contains("Yes, stop all 2 units"), page);
      assertTrue(page.contains("the units beside it in the chamber, too: FX3-00001."), page);
      assertTrue(!actsOf(2).contains("stop"), "it is over");
    }
  }

  private static Set<PosixFilePermission> readersOf(Path file) {
    try {
      return Files.exists(file) ? Files.getPosixFilePermissions(file) : Set.of();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void aRequestAtATerminalSaysForWhichUnitsItHolds() throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("26", "40 min"), 2, 3)) {
      List<String> said = new ArrayList<>();
      night.observe(
          new RunObserver() {
            @Override
            public void committed(Point point, List<Reading> readings) {
              if (said.isEmpty()) {
                said.add(status("2", "--pause") + status("2", "--continue"));
              }
            }
          });
      night.run();
      String both = said.get(0);
      assertTrue(both.contains("asked of run 2: pause\nIt holds for the units beside it"), both);
      assertTrue(both.contains("in the chamber, too: FX3-00001."), both);
      assertTrue(both.contains("asked of run 2: continue\nIt holds for"), both);
    }
  }

  private String status(String... words) {
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    PrintStream out = new PrintStream(said, true, StandardCharsets.UTF_8);
    Console console =
        new Console(InputStream.nullInputStream(), out, out, new Terminal(false, false, false, 80));
    List<String> all = new ArrayList<>(List.of(words));
    all.addAll(List.of("--logbook", folder.resolve("night-2-3.db").toString()));
    assertEquals(
        0, new CommandLine(new StatusCommand(console)).execute(all.toArray(String[]::new)));
    return said.toString(StandardCharsets.UTF_8);
  }

  /** What a person may ask of a run, as on its page. */
  private String actsOf(long run) {
    try (Logbook book = LogbookPlace.of(folder.resolve("night-2-3.db")).readOnly()) {
      RunSnapshot look = RunSnapshot.of(book, run, Optional.empty(), Instant.now());
      return RunPieces.quick(look, Optional.empty(), List.of(), "token").get("acts");
    }
  }

  @Test
  void whatIsAskedOfTheSecondUnitHoldsForAllAndStandsInEachRun() throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("26", "40 min"), 2, 3)) {
      night.observe(asking(RunRequestFile.Request.SKIP_TEMPERATURE, () -> {}));
      night.run();
      for (int unit = 0; unit < 2; unit++) {
        assertEquals(
            List.of("asked from another terminal: skip temperature"),
            night.reader(unit).incidents().stream()
                .filter(i -> i.kind() == IncidentKind.OPERATOR)
                .map(Incident::text)
                .toList());
        List<Point> points = measured(night, unit);
        assertTrue(
            points.stream().anyMatch(p -> p.state() == PointState.SKIPPED), points.toString());
        assertTrue(
            points.stream()
                .filter(p -> p.conditions().temperatureDegC().orElseThrow() == 26)
                .allMatch(p -> p.state() == PointState.COMPLETE),
            points.toString());
      }
    }
  }

  @Test
  void aSoakThatIsNotOverCanSkipItsTemperature() throws IOException {
    try (ComparedNight night = ComparedNight.planned(folder, sequence("50", "15 min"), 1, 3)) {
      night.run();
      List<Point> points = measured(night, 0);

      assertTrue(points.subList(0, 6).stream().allMatch(p -> p.state() == PointState.COMPLETE));
      assertTrue(points.subList(6, 12).stream().allMatch(p -> p.state() == PointState.SKIPPED));
      assertTrue(points.get(6).reason().contains("not over within its bound of 15.0 min"));
      List<PointKind> kinds =
          night.reader(0).points().stream().map(Point::kind).distinct().toList();
      assertEquals(
          List.of(PointKind.SOAK, PointKind.ZERO, PointKind.KNEE, PointKind.MEASURE), kinds);
    }
  }
}
