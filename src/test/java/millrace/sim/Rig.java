// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.quantity.NumberText;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/** A simulated bench without sockets: its instruments are spoken to directly. */
final class Rig {
  final VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
  final SimulatedLoop circuit;
  final SimLineResponder ammeter;
  final SimLineResponder voltmeter;
  final SimLineResponder load;
  final SimLineResponder chamber;
  final SimLineResponder thermometer;
  final SimLineResponder selector;
  final SimLineResponder supply;
  final SimLineResponder relays;

  Rig(SimulatedBenchSpec spec, SimulatedUnitSpec... kinds) {
    this(spec, new Seeds(1), kinds);
  }

  Rig(SimulatedBenchSpec spec, Seeds seeds, SimulatedUnitSpec... kinds) {
    Map<String, SimulatedUnit> units = new LinkedHashMap<>();
    for (SimulatedUnitSpec kind : kinds) {
      String position = Integer.toString(units.size() + 1);
      units.put(position, new SimulatedUnit(kind, seeds.derive(position)));
    }
    circuit = new SimulatedLoop(spec, units, clock, seeds);
    ammeter = new SharedSimInstrument(circuit, new SimMeter(circuit, SimMeter.Kind.CURRENT));
    voltmeter = new SharedSimInstrument(circuit, new SimMeter(circuit, SimMeter.Kind.VOLTAGE));
    load = new SharedSimInstrument(circuit, PlainTextSimInstruments.load(circuit));
    chamber = new SharedSimInstrument(circuit, PlainTextSimInstruments.chamber(circuit));
    thermometer =
        new SharedSimInstrument(
            circuit,
            PlainTextSimInstruments.thermometer(circuit, new PlainTextSimInstruments.Sensor()));
    selector = new SharedSimInstrument(circuit, PlainTextSimInstruments.selector(circuit));
    supply = new SharedSimInstrument(circuit, new SimSupply(circuit));
    relays = new SharedSimInstrument(circuit, new SimSwitch(circuit));
  }

  /** Source and supply on, one range, one load. */
  Rig live(String range, double loadOhm) {
    say(supply, "VOLT 20");
    say(supply, "OUTP ON");
    ok(load, "R " + NumberText.print(loadOhm));
    ok(selector, "RANGE " + range);
    ok(selector, "SOURCE ON");
    return this;
  }

  static void say(SimLineResponder to, String line) {
    assertEquals(Optional.empty(), to.hear(line), line);
  }

  static void ok(SimLineResponder to, String line) {
    assertEquals(Optional.of("OK"), to.hear(line), line);
  }

  static String ask(SimLineResponder to, String line) {
    return to.hear(line).orElseThrow(() -> new AssertionError("no reply to " + line));
  }

  static double number(SimLineResponder to, String line) {
    return NumberText.parse(ask(to, line).split(" ")[0]).orElseThrow();
  }

  void rest(Duration span) throws InterruptedException {
    clock.sleep(span);
  }
}
