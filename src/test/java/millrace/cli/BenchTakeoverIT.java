// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.evidence.RunOrigin;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;
import millrace.sim.SimReceivedLine;
import millrace.sim.fault.FaultPlan;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * {@code safe} on a bench that a run in another process holds. Judged by what the instruments
 * received: after it said that the bench is safe, nobody switched anything on.
 */
@Timeout(180)
class BenchTakeoverIT {
  private static final String LONG =
      """
      sequence: a run that takes long
      readings: {count: 50, line cycles: 10}
      settle: {wait: 1 s}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 200}}
              sweep: both
      """;

  @TempDir private Path folder;
  private RunProcess run;
  private ProcessHandle dog;

  private Path notices() {
    return folder.resolve("notices");
  }

  private Path logbook() {
    return folder.resolve("night.db");
  }

  /** A run of another process that has shown some points. */
  private void underWay(Served served, String... more) throws Exception {
    Path sequence = Files.writeString(folder.resolve("long.yaml"), LONG);
    List<String> words =
        new java.util.ArrayList<>(
            List.of("run", sequence.toString(), "--unit", "FX3-00042", "--datasheet"));
    words.addAll(List.of("examples/fx-3.datasheet.yaml", "--bench", served.file(), "--speed"));
    words.addAll(List.of(Integer.toString(Served.SPEED), "--logbook", logbook().toString()));
    words.addAll(List.of("--notices", notices().toString()));
    words.addAll(List.of(more));
    run = RunProcess.start(folder, words.toArray(String[]::new));
    run.lines(notices(), 4);
    dog = run.process().toHandle().children().findFirst().orElseThrow();
    assertTrue(run.process().isAlive(), run.said());
  }

  @AfterEach
  void end() throws Exception {
    if (run != null) {
      run.process().destroyForcibly().waitFor();
      dog.onExit().get(90, TimeUnit.SECONDS);
    }
  }

  /** In a process of its own, for the same user. */
  private RunProcess safe(Served served) throws IOException {
    Path place = Files.createDirectories(folder.resolve("safe"));
    return RunProcess.start(place, folder, "safe", "--bench", served.file());
  }

  private static void assertQuiet(Served served, int since) {
    List<SimReceivedLine> heard = served.bench().heard();
    assertTrue(
        heard.subList(since, heard.size()).stream()
            .noneMatch(h -> List.of("SOURCE ON", "OUTP ON", "SHORT OFF").contains(h.line())),
        heard.toString());
    assertEquals(List.of(), served.bench().unsafe());
  }

  @Test
  void aRunThatHasTheBenchIsStoppedBeforeItIsCalledSafe() throws Exception {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      underWay(served);
      RunProcess safe = safe(served);
      assertEquals(0, safe.ended(), safe.said());
      int since = served.bench().heard().size();
      String holder = "in use by process %s of ".formatted(run.process().pid());
      assertTrue(safe.said().contains(holder), safe.said());
      assertTrue(safe.said().contains(logbook().toString()), safe.said());
      run.ended();
      dog.onExit().get(90, TimeUnit.SECONDS);
      assertQuiet(served, since);
    }
  }

  @Test
  void aRunThatDoesNotStopIsEnded() throws Exception {
    Needs.program("kill");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      underWay(served);
      run.signal("STOP");
      RunProcess safe = safe(served);
      assertEquals(0, safe.ended(), safe.said());
      int since = served.bench().heard().size();
      assertTrue(safe.said().contains("did not stop within 2 s and was ended"), safe.said());
      assertFalse(run.process().isAlive());
      dog.onExit().get(90, TimeUnit.SECONDS);
      assertQuiet(served, since);
    }
  }

  /** Another logbook, with a run 1 of its own. */
  private Path another() {
    Path other = folder.resolve("other.db");
    try (Logbook book = Logbook.openOrCreate(other);
        RunWriter writer =
            book.begin(
                new RunStart(
                    "FX3-00077",
                    RunOrigin.BENCH,
                    "another one",
                    RunStart.People.NONE,
                    Optional.empty(),
                    "test",
                    Instant.parse("2026-11-25T18:00:00Z"),
                    ZoneOffset.UTC,
                    RunFacts.NONE))) {
      writer.end(RunState.COMPLETE, "", Instant.parse("2026-11-25T19:00:00Z"));
    }
    return other;
  }

  /** Moves the logbook of the run away, and another one to its place. */
  private byte[] exchanged() throws IOException {
    Path other = another();
    Path away = Files.createDirectory(folder.resolve("away"));
    for (String each : List.of("night.db", "night.db-wal", "night.db-shm")) {
      if (Files.exists(folder.resolve(each))) {
        Files.move(folder.resolve(each), away.resolve(each));
      }
    }
    Files.move(other, logbook());
    return Files.readAllBytes(logbook());
  }

  @Test
  void theWatchdogWritesIntoNoOtherLogbook() throws Exception {
    Needs.program("kill");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      underWay(served);
      run.signal("STOP");
      byte[] before = exchanged();
      run.process().destroyForcibly().waitFor();
      dog.onExit().get(90, TimeUnit.SECONDS);
      assertEquals(List.of(), served.bench().unsafe());
      assertArrayEquals(before, Files.readAllBytes(logbook()));
      assertTrue(
          run.said().contains("is another logbook than the one in which run 1 was"), run.said());
    }
    try (Logbook book = Logbook.readOnly(logbook())) {
      assertEquals(List.of(), book.reader(1).incidents());
    }
  }

  @Test
  void theLineThatGoesOnDoesNotLeadToAnotherLogbook() throws Exception {
    Needs.program("kill");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      underWay(served);
      run.signal("STOP");
      exchanged();
      run.signal("CONT");
      assertEquals(5, run.ended(), run.said());
      String where =
          "What is at '%s' now is not the logbook of this run. Once that is back in its place, with the files beside it, go on with: "
              .formatted(logbook());
      assertTrue(run.said().contains(where), run.said());
    }
  }

  /** Whichever is noticed first, the signal or the exchange. */
  @Test
  void theLineOfAStoppedRunDoesNotLeadToAnotherLogbook() throws Exception {
    Needs.program("kill");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      underWay(served);
      run.signal("STOP");
      byte[] before = exchanged();
      run.signal("TERM");
      run.signal("CONT");
      int code = run.ended();
      assertTrue(code == 5 || code == 143, run.said());
      String where =
          "What is at '%s' now is not the logbook of this run. Once that is back in its place, with the files beside it, go on with: "
              .formatted(logbook());
      assertTrue(run.said().contains(where), run.said());
      assertFalse(run.said().contains("Go on with"), run.said());
      assertArrayEquals(before, Files.readAllBytes(logbook()));
      assertEquals(List.of(), served.bench().unsafe());
    }
  }

  @Test
  void whoIsKilledDiedForStatusAndItsPeopleAreTold() throws Exception {
    Needs.program("sh");
    Path told = folder.resolve("told");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      underWay(
          served, "--notify", "echo \"$MILLRACE_EVENT|$MILLRACE_RUN|$MILLRACE_TEXT\" >> " + told);
      run.process().destroyForcibly().waitFor();
      dog.onExit().get(90, TimeUnit.SECONDS);
      assertEquals(List.of(), served.bench().unsafe());
    }
    List<String> lines = Files.readAllLines(told);
    assertEquals(1, lines.size(), lines::toString);
    assertTrue(lines.get(0).matches("failed\\|1\\|the runner died .* made safe .*"), lines.get(0));
    assertTrue(Files.readString(notices()).contains("the runner died"));
    Spoken status = Spoken.by("status", "--logbook", logbook().toString());
    assertTrue(
        status
            .out()
            .lines()
            .findFirst()
            .orElse("")
            .matches("died at .*, made safe by the watchdog.*"),
        status.out());
    assertFalse(status.out().contains(" left\n"), status.out());
  }
}
