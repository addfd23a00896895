// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.logbook.Logbook;
import millrace.logbook.PlanChange;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.run.control.RunRequestFile;
import millrace.run.control.RunRequestFile.Asked;
import millrace.run.control.RunRequestFile.Request;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A run in a process of its own that is killed without warning at random instants and resumed: what
 * was shown is in the logbook, the resumed run ends, nothing is there twice, and its results are
 * those of a run that nobody disturbed.
 */
class KilledRunIT {
  private static final String SEQUENCE =
      """
      sequence: a run that is killed
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - at temperatures: [23 degC, 35 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 3 h}
          do:
            - in ranges: [1mA, 100uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 15 %, 30 %, 45 %, 60 %, 75 %, 90 %]}
                  sweep: up
      """;

  private static final int PLANNED = 2 * 2 * 8;

  @TempDir private Path folder;

  private RunProcess begin(Path logbook, Path notices) throws IOException {
    Path sequence = Files.writeString(folder.resolve("killed.yaml"), SEQUENCE);
    return RunProcess.start(
        folder,
        "run",
        sequence.toString(),
        "--unit",
        "FX3-00042",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--simulated",
        "--seed",
        "11",
        "--logbook",
        logbook.toString(),
        "--notices",
        notices.toString());
  }

  private RunProcess resume(Path logbook, Path notices) throws IOException {
    return RunProcess.start(
        folder,
        "run",
        "--resume",
        "1",
        "--logbook",
        logbook.toString(),
        "--notices",
        notices.toString());
  }

  /** Keys of the points that were shown, in order. */
  private static List<String> shown(Path notices) throws IOException {
    List<String> keys = new ArrayList<>();
    for (String line : Files.exists(notices) ? Files.readAllLines(notices) : List.<String>of()) {
      int at = line.indexOf(" point: ");
      if (at >= 0) {
        keys.add(line.substring(at + 8, line.lastIndexOf(':')));
      }
    }
    return keys;
  }

  private static boolean begun(Path logbook) {
    if (!Files.exists(logbook)) {
      return false;
    }
    try (Logbook book = Logbook.openOrCreate(logbook)) {
      return !book.runs(RunFilter.ALL).isEmpty();
    } catch (millrace.fault.LogbookException emptyYet) {
      return false;
    }
  }

  private record Left(List<Point> points, Map<String, Double> currents, RunState state) {
    static Left in(Path logbook) {
      try (Logbook book = Logbook.open(logbook)) {
        RunReader reader = book.reader(1);
        Map<String, Double> currents = new HashMap<>();
        List<Point> points =
            reader.points().stream().filter(p -> p.kind() != PointKind.SOAK).toList();
        points.forEach(p -> currents.put(p.key(), mean(reader.readings(p.id()))));
        return new Left(points, currents, reader.summary().state());
      }
    }

    private static double mean(List<Reading> readings) {
      return readings.stream()
          .filter(r -> r.signal() == MeasuredSignal.CURRENT && r.value().isPresent())
          .mapToDouble(r -> r.corrected().orElseThrow())
          .average()
          .orElseThrow();
    }
  }

  /** Kills one run so often; the kills that met a running process. */
  private int killed(int kills, SplittableRandom random) throws Exception {
    Path logbook = folder.resolve("night-" + random.nextInt(1_000_000) + ".db");
    Path notices = folder.resolve(logbook.getFileName() + ".notices");
    int met = 0;
    for (int kill = 0; kill < kills; kill++) {
      RunProcess run = begun(logbook) ? resume(logbook, notices) : begin(logbook, notices);
      int lines = Files.exists(notices) ? Files.readAllLines(notices).size() : 0;
      run.lines(notices, lines + random.nextInt(1 + PLANNED / 3));
      run.process().waitFor(random.nextInt(40), TimeUnit.MILLISECONDS);
      boolean running = run.process().isAlive();
      run.process().destroyForcibly().waitFor();
      met += running ? 1 : 0;
      assertShownIsKept(logbook, notices);
      if (!running) {
        break;
      }
    }
    assertEnds(logbook, notices);
    return met;
  }

  private static void assertShownIsKept(Path logbook, Path notices) throws IOException {
    if (begun(logbook)) {
      Set<String> kept = new HashSet<>();
      Left.in(logbook).points().forEach(p -> kept.add(p.key()));
      shown(notices).forEach(key -> assertTrue(kept.contains(key), key + " was shown and is lost"));
    }
  }

  private void assertEnds(Path logbook, Path notices) throws Exception {
    if (!begun(logbook) || Left.in(logbook).state() != RunState.COMPLETE) {
      RunProcess run = begun(logbook) ? resume(logbook, notices) : begin(logbook, notices);
      int code = run.ended();
      assertTrue(code == 0 || code == 1 || code == 7, code + ": " + run.said());
    }
    Left left = Left.in(logbook);
    assertEquals(RunState.COMPLETE, left.state());
    assertEquals(PLANNED, left.points().size(), "points lost or there twice");
    assertEquals(PLANNED, left.currents().size(), "a point is there twice");
  }

  private void campaign(int kills) throws Exception {
    Path calm = folder.resolve("calm.db");
    assertEnds(calm, folder.resolve("calm.notices"));
    Map<String, Double> undisturbed = Left.in(calm).currents();
    SplittableRandom random = new Seeds(kills).stream("kills");
    int met = 0;
    int runs = 0;
    while (met < kills) {
      met += killed(Math.min(5, kills - met), random);
      runs++;
      for (Path each : notEmpty(logbooks())) {
        assertAgrees(undisturbed, Left.in(each));
      }
    }
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.writeString(
        out.resolve("kills-%s.txt".formatted(kills)),
        "%s kills of a running process in %s runs; every point shown was kept, every run ended%n"
            .formatted(met, runs));
  }

  private List<Path> logbooks() throws IOException {
    try (var all = Files.list(folder)) {
      return all.filter(p -> p.getFileName().toString().matches("night-.*\\.db")).toList();
    }
  }

  private static void assertAgrees(Map<String, Double> undisturbed, Left left) {
    for (Point p : left.points()) {
      double nominal = p.conditions().nominalA().orElseThrow();
      // noise of three readings at one line cycle, and 5 ppm that the soak may leave
      assertEquals(
          undisturbed.get(p.key()), left.currents().get(p.key()), 20e-6 * nominal, p.key());
    }
  }

  private static List<PlanChange> changes(Path logbook) {
    try (Logbook book = Logbook.readOnly(logbook)) {
      return book.reader(1).planChanges();
    }
  }

  /** Skips the temperature under way, as status does, adds one, and kills the run then. */
  private void changedAndKilled(Path logbook, Path notices) throws Exception {
    RunProcess run = begin(logbook, notices);
    run.lines(notices, 3);
    RunRequestFile terminal = RunRequestFile.of(logbook, 1);
    RunRequestFile.Asker ada = new RunRequestFile.Asker("Ada", "the chamber is needed");
    terminal.ask(new Asked(Request.ADD_TEMPERATURE, OptionalDouble.of(28), ada));
    terminal.ask(new Asked(Request.SKIP_TEMPERATURE, OptionalDouble.empty(), ada));
    while (run.process().isAlive() && changes(logbook).size() < 2) {
      run.process().waitFor(5, TimeUnit.MILLISECONDS);
    }
    run.process().destroyForcibly().waitFor();
    assertEquals(2, changes(logbook).size(), run.said());
  }

  @Test
  @Timeout(300)
  void whatWasSkippedAndAddedHoldsForARunThatIsKilledAndResumed() throws Exception {
    Path logbook = folder.resolve("changed.db");
    Path notices = folder.resolve("changed.notices");
    changedAndKilled(logbook, notices);
    RunProcess again = resume(logbook, notices);
    assertEquals(7, again.ended(), again.said());
    Map<Double, Long> complete;
    try (Logbook book = Logbook.readOnly(logbook)) {
      RunReader reader = book.reader(1);
      assertEquals(RunState.COMPLETE, reader.summary().state());
      assertEquals(2, reader.planChanges().size());
      assertEquals(List.of(), book.verify(1).faults());
      List<Point> points =
          reader.points().stream().filter(p -> p.kind() != PointKind.SOAK).toList();
      assertEquals(
          points.size(), points.stream().map(Point::key).distinct().count(), "a point twice");
      assertEquals(3 * PLANNED / 2, points.size(), "two temperatures and the added one");
      complete =
          points.stream()
              .filter(p -> p.state() == PointState.COMPLETE)
              .collect(
                  Collectors.groupingBy(
                      p -> p.conditions().temperatureDegC().orElseThrow(), Collectors.counting()));
    }
    assertTrue(
        complete.getOrDefault(23.0, 0L) < PLANNED / 2,
        "the first temperature was skipped: " + complete);
    assertEquals(PLANNED / 2, complete.get(28.0));
    assertEquals(PLANNED / 2, complete.get(35.0));
  }

  @Test
  @Timeout(300)
  void nothingThatWasShownIsLostByAFewKills() throws Exception {
    campaign(5);
  }

  @Test
  @Tag("campaign")
  @Timeout(5400)
  void nothingThatWasShownIsLostByManyKills() throws Exception {
    campaign(Integer.getInteger("millrace.kills", 200));
  }
}
