// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import millrace.bench.driver.Drivers;
import millrace.bench.role.Instrument;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.sim.SimulatedBench;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;

/** The shipped drivers against the simulated instruments, over real sockets. */
class SimulatedBenchIT {

  private static BenchFile file(SimulatedBench sim) throws IOException {
    String text;
    try (var in =
        SimulatedBenchIT.class.getResourceAsStream("/millrace/night/simulated-bench.yaml")) {
      text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
    for (Map.Entry<String, Integer> port : sim.ports().entrySet()) {
      text = text.replace("${" + port.getKey() + "}", String.valueOf(port.getValue()));
    }
    text += "slots: {unit: '1'}\n";
    return BenchForms.read("simulated", text.getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void readsTheCurrentOfTheUnitThroughEveryInstrument() throws IOException {
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    try (SimulatedBench sim =
            SimulatedBench.start(
                SimulatedBenchSpec.demo(),
                Map.of("1", SimulatedUnitSpec.demo()),
                clock,
                new Seeds(4),
                0);
        Bench bench = Bench.open(file(sim), Drivers.load(Path.of("drivers")), clock)) {
      notEmpty(bench.identify().values()).forEach(i -> assertTrue(i.contains("SIMULATED"), i));
      Supply supply = bench.in(RoleName.SUPPLY, Supply.class).orElseThrow();
      supply.set(18);
      supply.output(true);
      bench.in(RoleName.SWITCH, Switch.class).orElseThrow().connect("1");
      bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow().select("1mA");
      bench.in(RoleName.LOAD, Load.class).orElseThrow().set(4700);
      bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow().output(true);
      Meter ammeter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
      ammeter.prepare(ammeter.ranges().get(3), 10);
      Reply reply = ammeter.read();
      assertTrue(reply instanceof Reply.Number, reply.raw());
      double truth = sim.unit("1").currentA("1mA", 4.7, 23, 18);
      assertEquals(truth, ((Reply.Number) reply).value(), 40e-6 * truth);
      assertEquals(
          Map.of("range", "2 mA", "cycles", "10", "autozero", "1"), ammeter.readBack().words());
      notEmpty(bench.instruments().values()).forEach(Instrument::check);
      assertEquals(List.of(), sim.mistreatments());
      notEmpty(bench.makeSafe())
          .forEach(s -> assertEquals(java.util.Optional.empty(), s.trouble()));
      assertEquals(List.of(), sim.unsafe());
    }
  }
}
