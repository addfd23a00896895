// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.quantity.Numbers;
import millrace.sim.truth.BenchSpec;
import millrace.sim.truth.Unit;
import millrace.sim.truth.UnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/** A simulated bench without sockets: its instruments are spoken to directly. */
final class Rig {
  final VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
  final SimulatedLoop circuit;
  final Talker ammeter;
  final Talker voltmeter;
  final Talker load;
  final Talker chamber;
  final Talker thermometer;
  final Talker selector;
  final Talker supply;
  final Talker relays;

  Rig(BenchSpec spec, UnitSpec... kinds) {
    this(spec, new Seeds(1), kinds);
  }

  Rig(BenchSpec spec, Seeds seeds, UnitSpec... kinds) {
    Map<String, Unit> units = new LinkedHashMap<>();
    for (UnitSpec kind : kinds) {
      String position = Integer.toString(units.size() + 1);
      units.put(position, new Unit(kind, seeds.derive(position)));
    }
    circuit = new SimulatedLoop(spec, units, clock, seeds);
    ammeter = new LockedInstrument(circuit, new SimMeter(circuit, SimMeter.Kind.CURRENT));
    voltmeter = new LockedInstrument(circuit, new SimMeter(circuit, SimMeter.Kind.VOLTAGE));
    load = new LockedInstrument(circuit, PlainInstruments.load(circuit));
    chamber = new LockedInstrument(circuit, PlainInstruments.chamber(circuit));
    thermometer =
        new LockedInstrument(
            circuit, PlainInstruments.thermometer(circuit, new PlainInstruments.Sensor()));
    selector = new LockedInstrument(circuit, PlainInstruments.selector(circuit));
    supply = new LockedInstrument(circuit, new SimSupply(circuit));
    relays = new LockedInstrument(circuit, new SimSwitch(circuit));
  }

  /** Source and supply on, one range, one load. */
  Rig live(String range, double loadOhm) {
    say(supply, "VOLT 20");
    say(supply, "OUTP ON");
    ok(load, "R " + Numbers.print(loadOhm));
    ok(selector, "RANGE " + range);
    ok(selector, "SOURCE ON");
    return this;
  }

  static void say(Talker to, String line) {
    assertEquals(Optional.empty(), to.hear(line), line);
  }

  static void ok(Talker to, String line) {
    assertEquals(Optional.of("OK"), to.hear(line), line);
  }

  static String ask(Talker to, String line) {
    return to.hear(line).orElseThrow(() -> new AssertionError("no reply to " + line));
  }

  static double number(Talker to, String line) {
    return Numbers.parse(ask(to, line).split(" ")[0]).orElseThrow();
  }

  void rest(Duration span) throws InterruptedException {
    clock.sleep(span);
  }
}
