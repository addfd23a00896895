// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.SmallDisk;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.RunOrigin;
import millrace.fault.LogbookException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunFilter;
import millrace.logbook.RunStart;
import millrace.logbook.RunWriter;
import millrace.sim.fault.FaultPlan;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A logbook on a disk of its own that runs full in the middle of a run, or that may only be read.
 * Skipped where this user may not mount one.
 */
@Timeout(120)
class SmallDiskIT {
  private static final String SEQUENCE =
      """
      sequence: a run that meets a full disk
      readings: {count: 10, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: all
          do:
            - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 10}}
              sweep: both
      """;

  @TempDir private Path folder;
  private Optional<SmallDisk> mounted = Optional.empty();

  @BeforeEach
  void mount() throws IOException {
    mounted = SmallDisk.mounted(folder.resolve("disk"));
    assumeTrue(mounted.isPresent(), "a disk can be mounted (as root)");
  }

  @AfterEach
  void unmount() {
    mounted.ifPresent(SmallDisk::close);
  }

  private Path logbook() {
    return mounted.orElseThrow().folder().resolve("night.db");
  }

  private RunProcess run(String... words) throws IOException {
    List<String> all = new ArrayList<>(List.of("run"));
    all.addAll(List.of(words));
    all.addAll(List.of("--logbook", logbook().toString()));
    all.addAll(List.of("--notices", folder.resolve("notices").toString()));
    return RunProcess.start(folder, all.toArray(String[]::new));
  }

  private RunProcess begun(String... onBench) throws IOException {
    Path sequence = Files.writeString(folder.resolve("full.yaml"), SEQUENCE);
    List<String> words =
        new ArrayList<>(List.of(sequence.toString(), "--unit", "FX3-00042", "--datasheet"));
    words.add("examples/fx-3.datasheet.yaml");
    words.addAll(List.of(onBench));
    return run(words.toArray(String[]::new));
  }

  @Test
  void aDiskThatRunsFullStopsTheRunSafeAndTheRunGoesOnWhenThereIsRoom() throws Exception {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite("  free disk: 100 MB\n", "");
      String speed = Integer.toString(Served.SPEED);
      RunProcess run = begun("--bench", served.file(), "--speed", speed);
      Path notices = folder.resolve("notices");
      run.lines(notices, 12);
      mounted.orElseThrow().fill();
      assertEquals(5, run.ended(), run.said());
      assertTrue(run.said().contains("the disk is full"), run.said());
      assertTrue(run.said().contains("the bench is in its safe state"), run.said());
      assertEquals(List.of(), served.bench().unsafe());
      assertWhole(Files.readAllLines(notices));
      mounted.orElseThrow().clear();
      RunProcess again = run("--resume", "1", "--speed", speed);
      int code = again.ended();
      assertTrue(code == 0 || code == 1 || code == 7, code + ": " + again.said());
      assertWhole(Files.readAllLines(notices));
    }
  }

  @Test
  void aLogbookThatMetAFullDiskCanBeWrittenAgainWhenThereIsRoom() {
    try (Logbook book = Logbook.openOrCreate(logbook());
        RunWriter writer = book.begin(start())) {
      mounted.orElseThrow().fill();
      for (int i = 0; i < 3; i++) {
        String said = assertThrows(LogbookException.class, () -> note(writer)).getMessage();
        assertTrue(said.contains("the disk is full"), said);
      }
      mounted.orElseThrow().clear();
      note(writer);
      assertEquals(1, book.reader(writer.run()).incidents().size());
    }
  }

  /** Larger than any room that is left in a page. */
  private static void note(RunWriter writer) {
    writer.incident(
        new Incident(
            IncidentKind.CAUTION,
            Optional.empty(),
            "x".repeat(20_000),
            Instant.EPOCH,
            Duration.ZERO));
  }

  private static RunStart start() {
    return new RunStart(
        "FX3-00042",
        RunOrigin.SIMULATED,
        "a full disk",
        RunStart.People.NONE,
        Optional.of(new RunStart.Simulation(5, true)),
        "test",
        Instant.EPOCH,
        ZoneOffset.UTC,
        RunFacts.NONE);
  }

  private void assertWhole(List<String> notices) {
    long shown = notices.stream().filter(l -> l.contains(" point: ")).count();
    try (Logbook book = Logbook.open(logbook())) {
      assertEquals(shown, book.reader(1).points().size());
      assertEquals(List.of(), book.verify(1).faults());
    }
  }

  @Test
  void aDiskThatMayOnlyBeReadIsSaidBeforeAnythingIsTouched() throws Exception {
    Logbook.openOrCreate(logbook()).close();
    mounted.orElseThrow().readOnly(true);
    RunProcess run = begun("--simulated");
    assertEquals(5, run.ended(), run.said());
    assertTrue(run.said().contains("may read and write"), run.said());
    mounted.orElseThrow().readOnly(false);
    try (Logbook book = Logbook.open(logbook())) {
      assertEquals(List.of(), book.runs(RunFilter.ALL));
    }
  }
}
