// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import millrace.Needs;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimInstrumentNames;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A simulated bench over pseudo-terminals. */
@Timeout(60)
class PseudoterminalsIT {
  @TempDir private Path folder;

  private static SimulatedBench bench(FaultPlan plan) {
    return SimulatedBench.start(
        SimulatedBench.Settings.demo(new Seeds(1)).with(plan),
        new VirtualClock(Instant.parse("2026-11-25T18:00:00Z")));
  }

  private static String ask(Path terminal, String line) throws IOException {
    try (RandomAccessFile file = new RandomAccessFile(terminal.toFile(), "rw")) {
      file.write((line + "\n").getBytes(StandardCharsets.ISO_8859_1));
      StringBuilder heard = new StringBuilder();
      for (int b = file.read(); b >= 0 && b != '\n'; b = file.read()) {
        heard.append((char) b);
      }
      return heard.toString();
    }
  }

  @Test
  void everyInstrumentAnswersOnItsTerminalAgainAndAgain() throws IOException {
    Needs.program("socat");
    try (SimulatedBench bench = bench(FaultPlan.NONE);
        Pseudoterminals terminals = Pseudoterminals.open(bench, folder)) {
      for (int round = 0; round < 2; round++) {
        assertEquals("1999.0", ask(terminals.paths().get("ammeter"), "SYST:VERS?"));
        assertEquals("23", ask(terminals.paths().get("chamber"), "SET?"));
        assertEquals("OK", ask(terminals.paths().get("load"), "R 4700"));
      }
      assertEquals(SimInstrumentNames.NAMES.size(), terminals.paths().size());
    }
  }

  @Test
  void aTerminalWhoseConnectionBrokeComesBack() throws Exception {
    Needs.program("socat");
    SimFault reset = SimFault.of(SimFault.Kind.RESET, "load", new SimFault.AtQuestion(1));
    try (SimulatedBench bench = bench(FaultPlan.of(reset));
        Pseudoterminals terminals = Pseudoterminals.open(bench, folder)) {
      Path load = terminals.paths().get("load");
      Path before = load.toRealPath();
      assertTrue(Files.exists(before));
      pullOut(load);
      SystemClock.Deadline deadline = SystemClock.deadline(Duration.ofSeconds(20));
      while (!"OK".equals(tried(load)) && !deadline.passed()) {
        new SystemClock().sleep(Duration.ofMillis(50));
      }
      assertEquals("OK", ask(load, "R 4700"));
    }
  }

  private static void pullOut(Path terminal) throws IOException {
    try (RandomAccessFile file = new RandomAccessFile(terminal.toFile(), "rw")) {
      file.write("R 1\n".getBytes(StandardCharsets.ISO_8859_1));
      assertEquals(-1, endOf(file));
    }
  }

  private static int endOf(RandomAccessFile file) {
    try {
      return file.read();
    } catch (IOException vanished) {
      return -1;
    }
  }

  private static String tried(Path terminal) {
    try {
      return Files.exists(terminal) ? ask(terminal, "R 4700") : "not there";
    } catch (IOException vanished) {
      return "vanished";
    }
  }

  @Test
  void terminalsVanishWithTheBench() throws Exception {
    Needs.program("socat");
    SimulatedBench bench = bench(FaultPlan.NONE);
    Pseudoterminals terminals = Pseudoterminals.open(bench, folder);
    terminals.close();
    bench.close();
    SystemClock.Deadline deadline = SystemClock.deadline(Duration.ofSeconds(20));
    while (Files.exists(terminals.paths().get("load")) && !deadline.passed()) {
      new SystemClock().sleep(Duration.ofMillis(20));
    }
    assertFalse(Files.exists(terminals.paths().get("load")));
  }
}
