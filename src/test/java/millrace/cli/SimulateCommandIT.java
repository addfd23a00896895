// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.bench.role.Load;
import millrace.bench.role.RoleName;
import millrace.time.SystemClock;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The command in a process of its own, spoken to as a real bench is. */
@Timeout(120)
class SimulateCommandIT {
  @TempDir private Path folder;
  private final List<Process> started = new ArrayList<>();

  @AfterEach
  void end() throws InterruptedException {
    for (Process process : started) {
      process.destroyForcibly();
      process.waitFor();
    }
  }

  private Process simulate(String... words) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                "millrace.cli.Main",
                "simulate"));
    command.addAll(List.of(words));
    Process process =
        new ProcessBuilder(command).redirectOutput(folder.resolve("out").toFile()).start();
    started.add(process);
    return process;
  }

  private static String until(Process process, String line) throws IOException {
    BufferedReader reader = process.errorReader(StandardCharsets.UTF_8);
    StringBuilder all = new StringBuilder();
    for (String next = reader.readLine(); next != null; next = reader.readLine()) {
      all.append(next).append('\n');
      if (next.equals(line)) {
        return all.toString();
      }
    }
    return all.toString();
  }

  private static void assertTalks(BenchFile file, int instruments) {
    try (Bench bench = Bench.open(file, Drivers.load(Path.of("drivers")), new SystemClock())) {
      assertEquals(instruments, bench.identify().size());
      notEmpty(bench.identify().values()).forEach(i -> assertTrue(i.contains("SIMULATED"), i));
      bench.in(RoleName.LOAD, Load.class).orElseThrow().set(4700);
    }
  }

  @Test
  void servesABenchThatItsFileDescribesUntilItIsTold() throws Exception {
    Path file = folder.resolve("bench.yaml");
    Process process = simulate("--seed", "7", "--speed", "100", "--units", "2", "-o", file + "");
    String said = until(process, "Serving until Ctrl-C.");
    assertTrue(said.contains("SIMULATED: no real instrument is behind this bench. Seed 7."), said);
    assertEquals(Files.readString(file).strip(), Files.readString(folder.resolve("out")).strip());
    BenchFile bench = BenchForms.read("bench.yaml", Files.readAllBytes(file));
    assertTrue(bench.simulated());
    assertEquals(2, bench.slots().size());
    assertTalks(bench, 9);
    process.toHandle().destroy();
    assertEquals("The simulated bench has stopped.\n", until(process, ""));
    assertTrue(process.waitFor(30, TimeUnit.SECONDS));
    assertEquals(143, process.exitValue());
  }

  @Test
  void servesOnTerminalsToo() throws Exception {
    Needs.program("socat");
    Path terminals = folder.resolve("terminals");
    Process process = simulate("--terminals", terminals.toString());
    until(process, "Serving until Ctrl-C.");
    byte[] text = Files.readAllBytes(folder.resolve("out"));
    BenchFile bench = BenchForms.read("bench.yaml", text);
    assertTrue(bench.instruments().get("load").address().toString().startsWith("serial "));
    assertTalks(bench, 9);
    process.destroy();
    assertTrue(process.waitFor(30, TimeUnit.SECONDS));
    assertFalse(Files.exists(terminals.resolve("load")), "the terminals have gone");
  }

  private String refused(int code, String... words) throws Exception {
    Process process = simulate(words);
    String said = until(process, "");
    assertTrue(process.waitFor(60, TimeUnit.SECONDS));
    assertEquals(code, process.exitValue(), said);
    return said;
  }

  @Test
  void aPortThatIsTakenIsNamed() throws Exception {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      int port = taken.getLocalPort();
      String said = refused(2, "--first-port", "" + port);
      assertTrue(said.contains("simulate: port " + port + " cannot be served"), said);
      assertTrue(said.contains("Give another --first-port, or 0 for any free ports."), said);
    }
  }

  @Test
  void wrongWordsAreRefusedBeforeAnythingIsServed() throws Exception {
    assertTrue(refused(2, "--speed", "0").contains("--speed 0.0 is outside (0, 1e6]"));
    assertTrue(refused(2, "--units", "0").contains("--units 0 is outside 1 to 100"));
    Path faults = folder.resolve("faults.yaml");
    Files.writeString(faults, "faults: [{kind: silence, on: kettle, question: 1}]");
    assertTrue(refused(2, "--faults", faults.toString()).contains("kettle"));
  }
}
