// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.evidence.IncidentKind;
import millrace.link.LinkAddress;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Runs on a bench that lives in another process, as real instruments do. */
@Timeout(180)
@Tag("campaign")
class RealBenchIT {
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

  private static RunProcess simulate;
  private static Path bench;

  @TempDir private Path folder;
  private final List<RunProcess> started = new ArrayList<>();

  @BeforeAll
  static void serve(@TempDir Path place) throws Exception {
    bench = place.resolve("bench.yaml");
    simulate = RunProcess.start(place, "simulate", "--speed", "20", "-o", bench.toString());
    simulate.lines(place.resolve("err"), 2);
  }

  @AfterAll
  static void serveNoMore() throws InterruptedException {
    simulate.process().destroyForcibly().waitFor();
  }

  /** A watchdog outlives its runner, with its hands on the bench and on the logbook. */
  @AfterEach
  void end() throws Exception {
    for (RunProcess each : started) {
      List<ProcessHandle> watchdogs = each.process().toHandle().children().toList();
      each.process().destroyForcibly().waitFor();
      for (ProcessHandle watchdog : watchdogs) {
        watchdog.onExit().get(60, TimeUnit.SECONDS);
      }
    }
  }

  private Path notices() {
    return folder.resolve("notices");
  }

  private RunProcess run(String place, String... more) throws IOException {
    Path sequence = Files.writeString(folder.resolve("long.yaml"), LONG);
    List<String> words =
        new ArrayList<>(
            List.of(
                "run",
                sequence.toString(),
                "--unit",
                "FX3-00042",
                "--datasheet",
                "examples/fx-3.datasheet.yaml",
                "--bench",
                bench.toString(),
                "--speed",
                "20",
                "--logbook",
                folder.resolve(place + ".db").toString(),
                "--notices",
                notices().toString()));
    words.addAll(List.of(more));
    RunProcess run =
        RunProcess.start(
            Files.createDirectories(folder.resolve(place)), folder, words.toArray(String[]::new));
    started.add(run);
    return run;
  }

  /** A run that has shown some points, with the source on. */
  private RunProcess underWay(String... more) throws Exception {
    RunProcess run = run("night", more);
    run.lines(notices(), 5);
    assertTrue(run.process().isAlive(), run.said());
    return run;
  }

  private String ask(String instrument, String question) throws IOException {
    BenchFile file = BenchForms.read(bench);
    LinkAddress.Tcp at = (LinkAddress.Tcp) file.instruments().get(instrument).address();
    try (Socket socket = new Socket(at.host(), at.port())) {
      socket.getOutputStream().write((question + "\n").getBytes(StandardCharsets.US_ASCII));
      return new BufferedReader(
              new InputStreamReader(socket.getInputStream(), StandardCharsets.US_ASCII))
          .readLine();
    }
  }

  /** The source is off now and then, whenever the load changes; at most points it is on. */
  private void awaitSource() throws IOException {
    for (int tries = 0; tries < 2000; tries++) {
      if (ask("selector", "SOURCE?").equals("ON")) {
        return;
      }
    }
    throw new AssertionError("the source never came on");
  }

  private void assertSafe() throws IOException {
    assertEquals("OFF", ask("selector", "SOURCE?"));
    assertEquals("0", ask("supply", "OUTP?"));
  }

  private List<String> safeStates() {
    try (Logbook book = Logbook.readOnly(folder.resolve("night.db"))) {
      RunReader reader = book.reader(1);
      return reader.incidents().stream()
          .filter(i -> i.kind() == IncidentKind.SAFE_STATE)
          .map(i -> i.text())
          .toList();
    }
  }

  @ParameterizedTest
  @CsvSource({"INT, 130", "TERM, 143", "HUP, 129"})
  void aSignalEndsTheRunAfterTheSafeState(String signal, int code) throws Exception {
    assumeFalse(signal.equals("HUP") && Needs.ignored(1), "hang-ups are ignored here");
    RunProcess run = underWay();
    run.signal(signal);
    assertEquals(code, run.ended(), run.said());
    assertEquals(List.of("the bench is in its safe state"), safeStates());
    assertTrue(run.said().contains("millrace run --resume 1"), run.said());
    assertSafe();
  }

  /** What a shell makes of a printed line: the words behind the name of the program. */
  private static String[] typed(String line) throws Exception {
    String shell = "millrace() { printf '%s\\n' \"$@\"; }; " + line;
    Process process = new ProcessBuilder("sh", "-c", shell).start();
    return new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).split("\n");
  }

  /** Drivers, speed and odd names included: whoever copies the line must not have to think. */
  @Test
  void theLineThatIsPrintedGoesOnAsItIsTyped() throws Exception {
    String odd = "Ada's $night";
    Path drivers =
        Files.createSymbolicLink(folder.resolve(odd), Path.of("drivers").toAbsolutePath());
    RunProcess run = run(odd + " 1", "--drivers", drivers.toString(), "--operator", "Ada \"A\" L");
    run.lines(notices(), 5);
    run.signal("TERM");
    assertEquals(143, run.ended(), run.said());
    String said = run.said();
    String line =
        said.substring(said.indexOf("Go on with: ") + 12).lines().findFirst().orElseThrow();
    Path place = Files.createDirectories(folder.resolve("again"));
    RunProcess again = RunProcess.start(place, folder, typed(line));
    started.add(again);
    again.says(place.resolve("err"), "the run goes on with");
    again.signal("TERM");
    assertEquals(143, again.ended(), again.said());
    assertTrue(again.said().contains(line), again.said());
  }

  @Test
  void anUnattendedRunSurvivesAHangUp() throws Exception {
    RunProcess run = underWay("--unattended");
    run.signal("HUP");
    int before = Files.readAllLines(notices()).size();
    run.lines(notices(), before + 3);
    assertTrue(run.process().isAlive(), run.said());
    run.signal("TERM");
    assertEquals(143, run.ended(), run.said());
    assertSafe();
  }

  @Test
  void theWatchdogMakesTheBenchSafeWhenTheRunnerIsKilled() throws Exception {
    RunProcess run = underWay();
    awaitSource();
    List<ProcessHandle> children = run.process().toHandle().children().toList();
    assertEquals(1, children.size());
    run.process().destroyForcibly().waitFor();
    children.get(0).onExit().get(60, TimeUnit.SECONDS);
    assertSafe();
    assertEquals(
        List.of("the runner died without goodbye; the watchdog put the bench in its safe state"),
        safeStates());
  }

  @Test
  void theWatchdogMakesTheBenchOfAProductionStationSafeWhenThatIsKilled() throws Exception {
    Path place = Files.createDirectories(folder.resolve("station"));
    RunProcess station =
        RunProcess.attended(
            place,
            "production",
            "sequences/production-board-test.yaml",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--bench",
            bench.toString(),
            "--speed",
            "20",
            "--operator",
            "ANNE",
            "--shift",
            "early",
            "--logbook",
            place.resolve("station.db").toString(),
            "--notices",
            notices().toString());
    started.add(station);
    station.says(place.resolve("out"), "Scan a board, or 'end':");
    station.process().outputWriter().append("FX3-00042\n").flush();
    station.lines(notices(), 5);
    awaitSource();
    ProcessHandle dog = station.process().toHandle().children().findFirst().orElseThrow();
    station.process().destroyForcibly().waitFor();
    dog.onExit().get(60, TimeUnit.SECONDS);
    assertSafe();
  }

  @Test
  void theWatchdogGoesWithoutAWordWhenTheRunnerSaysGoodbye() throws Exception {
    RunProcess run = underWay();
    ProcessHandle dog = run.process().toHandle().children().findFirst().orElseThrow();
    run.signal("TERM");
    run.ended();
    dog.onExit().get(60, TimeUnit.SECONDS);
    assertEquals(1, safeStates().size());
    assertTrue(!run.said().contains("watchdog"), run.said());
  }

  @Test
  void twoRunsNeverShareABenchAndTheHolderIsNamed() throws Exception {
    RunProcess first = underWay();
    RunProcess second = run("second");
    assertEquals(3, second.ended(), second.said());
    String holder = "is in use by process " + first.process().pid();
    assertTrue(second.said().contains(holder), second.said());
    assertTrue(first.process().isAlive(), first.said());
    ProcessHandle dog = first.process().toHandle().children().findFirst().orElseThrow();
    first.process().destroyForcibly().waitFor();
    dog.onExit().get(60, TimeUnit.SECONDS);
    RunProcess third = run("third");
    int before = Files.readAllLines(notices()).size();
    third.lines(notices(), before + 3);
    assertTrue(third.process().isAlive(), third.said());
  }

  private String status(String... more) throws Exception {
    Path place = Files.createDirectories(folder.resolve("status"));
    List<String> words =
        new ArrayList<>(List.of("status", "--logbook", folder.resolve("night.db").toString()));
    words.addAll(List.of(more));
    RunProcess status = RunProcess.start(place, words.toArray(String[]::new));
    assertEquals(0, status.ended(), status.said());
    return Files.readString(place.resolve("out")) + status.said();
  }

  @Test
  void anotherTerminalSeesTheRunAndPausesIt() throws Exception {
    RunProcess run = underWay();
    String said = status("--pause");
    assertTrue(said.contains("run 1  FX3-00042  a run that takes long  unfinished"), said);
    assertTrue(said.contains("written by process " + run.process().pid()), said);
    assertTrue(said.contains(" left\n"), said);
    assertTrue(said.contains("ppm from nominal, as read"), said);
    assertTrue(said.contains("asked of run 1: pause"), said);
    while (!Files.readString(notices()).contains("asked from another terminal: pause")) {
      assertTrue(!run.process().waitFor(50, TimeUnit.MILLISECONDS), run.said());
    }
    status("--continue");
    int paused = Files.readAllLines(notices()).size();
    run.lines(notices(), paused + 3);
    assertTrue(run.process().isAlive(), run.said());
  }
}
