// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import millrace.time.Seeds;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** A bench rebuilt from its seed in the middle of a night, as a resumed run does. */
@Timeout(60)
class RebuiltBenchIT {
  private static final Instant START = Instant.parse("2026-11-25T18:00:00Z");
  private static final AtTime EARLY = new AtTime(Duration.ofHours(1));
  private static final AtTime LATER = new AtTime(Duration.ofHours(6));

  private static SimulatedBench bench(Duration elapsed, FaultPlan plan) {
    return SimulatedBench.start(
        SimulatedBench.Settings.demo(new Seeds(9)).with(plan), new VirtualClock(START, elapsed));
  }

  private static String read(SimulatedBench bench) throws IOException {
    try (Client client = new Client(bench, "ammeter")) {
      client.say("CURR:RANG 2E-6");
      return client.ask("READ?");
    }
  }

  private static List<String> readings(SimulatedBench bench) throws IOException {
    List<String> all = new ArrayList<>();
    for (int i = 0; i < 20; i++) {
      all.add(read(bench));
    }
    return all;
  }

  @Test
  void unitAndErrorsAreTheSameAndTheNoiseIsNot() throws IOException {
    try (SimulatedBench first = bench(Duration.ZERO, FaultPlan.NONE);
        SimulatedBench again = bench(Duration.ofHours(5), FaultPlan.NONE)) {
      assertEquals(first.truth(), again.truth());
      assertEquals(
          first.unit("1").truth("1mA", 30).currentA(2),
          again.unit("1").truth("1mA", 30).currentA(2));
      assertNotEquals(readings(first), readings(again));
    }
  }

  @Test
  void faultsThatHadStruckDoNotStrikeAgain() throws IOException {
    FaultPlan plan =
        FaultPlan.of(
            SimFault.of(Kind.OVERLOAD, "ammeter", EARLY),
            SimFault.of(Kind.CLOCK_JUMP, "switch", EARLY),
            SimFault.of(Kind.OVERLOAD, "ammeter", LATER));
    try (SimulatedBench again = bench(Duration.ofHours(5), plan)) {
      assertNotEquals("+9.90000000E+37\n", read(again));
      assertEquals(List.of(), again.struck());
    }
    try (SimulatedBench later = bench(Duration.ofHours(6), plan)) {
      assertEquals("+9.90000000E+37\n", read(later));
    }
  }

  @Test
  void aDeadUnitStaysDead() throws IOException {
    FaultPlan plan = FaultPlan.of(SimFault.of(Kind.UNIT_DIES, "selector", EARLY));
    try (SimulatedBench again = bench(Duration.ofHours(5), plan)) {
      read(again);
      assertEquals(Kind.UNIT_DIES, again.struck().get(0).fault().kind());
    }
  }
}
