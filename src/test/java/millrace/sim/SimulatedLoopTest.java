// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import millrace.sim.truth.Kinds;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import org.junit.jupiter.api.Test;

/** The loop against Ohm's law by hand, and the watch on what must never happen. */
class SimulatedLoopTest {
  private static final SimulatedUnitSpec UNIT =
      Kinds.of(Kinds.ideal("1mA", 5, 5e3), Kinds.ideal("1uA", 5, 5e6));

  private static SimulatedBenchSpec bench(double inputOhm, boolean upstream) {
    SimulatedBenchSpec perfect = Kinds.perfectBench();
    return new SimulatedBenchSpec(
        perfect.ammeter(),
        Kinds.withInput(perfect.voltmeter(), inputOhm),
        perfect.load(),
        perfect.chamber(),
        0,
        new SimulatedBenchSpec.WiringSpec(0, 0, Kinds.IDEAL_OHM, upstream),
        java.util.Optional.empty());
  }

  @Test
  void aVoltmeterAcrossTheLoadTakesItsShareOfTheLoadsCurrent() {
    Rig rig = new Rig(bench(10e6, false), UNIT).live("1uA", 5e6);
    assertEquals(1e-6, Rig.number(rig.ammeter, "READ?"), 1e-14);
    double parallel = 5e6 * 10e6 / 15e6;
    assertEquals(1e-6 * parallel, Rig.number(rig.voltmeter, "READ?"), 1e-8);
  }

  @Test
  void aVoltmeterUpstreamTakesCurrentThatTheMeterDoesNotSee() {
    Rig rig = new Rig(bench(10e6, true), UNIT).live("1uA", 5e6);
    Rig.say(rig.ammeter, "CURR:RANG 2E-6");
    double terminalV = 1e-6 / (1 / (5e6 + 5e3) + 1 / 10e6);
    assertEquals(terminalV, Rig.number(rig.voltmeter, "READ?"), 1e-7);
    assertEquals(1e-6 - terminalV / 10e6, Rig.number(rig.ammeter, "READ?"), 1e-14);
  }

  @Test
  void theBurdenOfTheMeterAddsToTheTerminalVoltage() {
    Rig rig = new Rig(bench(Kinds.IDEAL_OHM, false), UNIT).live("1mA", 15e3 - 20);
    Rig.say(rig.ammeter, "CURR:RANG 2E-3");
    assertTrue(Rig.number(rig.ammeter, "READ?") < 0.9999e-3, "at the knee with 5 ohm more");
    Rig.ok(rig.selector, "SOURCE OFF");
    Rig.ok(rig.load, "R 10000");
    Rig.ok(rig.selector, "SOURCE ON");
    Rig.say(rig.ammeter, "CURR:RANG 2E-3");
    assertEquals(10.005, rig.circuit.solve(1).terminalV(), 1e-6);
  }

  @Test
  void nothingFlowsWithSourceOrSupplyOffOrTheSwitchOpen() {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT).live("1mA", 1e3);
    Rig.ok(rig.selector, "SOURCE OFF");
    assertEquals(0, Rig.number(rig.ammeter, "READ?"), 0);
    Rig.say(rig.relays, "ROUT:OPEN:ALL");
    Rig.ok(rig.selector, "SOURCE ON");
    assertEquals(0, Rig.number(rig.ammeter, "READ?"), 0);
    Rig.say(rig.relays, "ROUT:CLOS (@1)");
    Rig.say(rig.supply, "OUTP OFF");
    assertEquals(0, Rig.number(rig.ammeter, "READ?"), 0);
    assertEquals(java.util.List.of(), rig.circuit.watch().mistreatments());
  }

  @Test
  void aLiveLoopThatIsOpenedIsNoticedForLoadRangeAndSwitch() {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT).live("1mA", 1e3);
    Rig.ok(rig.load, "R 2000");
    Rig.ok(rig.selector, "RANGE 1uA");
    Rig.say(rig.relays, "ROUT:OPEN:ALL");
    assertEquals(
        java.util.List.of(
            "load changed in a live current loop",
            "range changed in a live current loop",
            "switch opened a live current loop"),
        rig.circuit.watch().mistreatments());
  }

  @Test
  void changesWithTheOutputShortedOrTheSourceOffAreNoMishaps() {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT).live("1mA", 1e3);
    Rig.ok(rig.load, "SHORT ON");
    Rig.ok(rig.load, "R 2000");
    Rig.ok(rig.selector, "RANGE 1uA");
    Rig.ok(rig.load, "SHORT OFF");
    Rig.ok(rig.selector, "SOURCE OFF");
    Rig.ok(rig.load, "R 3000");
    Rig.say(rig.relays, "ROUT:CLOS (@1)");
    assertEquals(java.util.List.of(), rig.circuit.watch().mistreatments());
  }

  @Test
  void aMeterInputBeyondItsRatingIsNoticedOnce() {
    SimulatedUnitSpec strong = Kinds.of(Kinds.ideal("50mA", 5, 100));
    Rig rig = new Rig(Kinds.perfectBench(), strong).live("50mA", 10);
    Rig.ask(rig.ammeter, "READ?");
    Rig.ask(rig.ammeter, "READ?");
    assertEquals(
        java.util.List.of("meter input beyond its rating"), rig.circuit.watch().mistreatments());
  }

  @Test
  void aSupplyBeyondWhatTheUnitBearsIsNoticed() {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT);
    Rig.say(rig.supply, "VOLT 35");
    Rig.say(rig.supply, "OUTP ON");
    assertEquals(
        java.util.List.of("supply beyond what the unit bears"),
        rig.circuit.watch().mistreatments());
  }

  @Test
  void aColdChamberWithItsDoorOpenIsNoticed() throws InterruptedException {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT);
    rig.circuit.at(Duration.ofMinutes(60), climate -> climate.door(true));
    Rig.ok(rig.chamber, "SET 2");
    rig.rest(Duration.ofMinutes(55));
    Rig.ask(rig.ammeter, "READ?");
    assertEquals(java.util.List.of(), rig.circuit.watch().mistreatments());
    rig.rest(Duration.ofMinutes(6));
    Rig.ask(rig.ammeter, "READ?");
    assertEquals(
        java.util.List.of("chamber below the dew point with the door open"),
        rig.circuit.watch().mistreatments());
    assertEquals("OPEN", Rig.ask(rig.chamber, "DOOR?"));
  }

  @Test
  void eachUnitHasItsOwnTemperatureAndCurrent() throws InterruptedException {
    SimulatedUnitSpec quick =
        new SimulatedUnitSpec(
            UNIT.ranges(),
            new SimulatedUnitSpec.Warmth(0, 900, 60),
            UNIT.noise(),
            UNIT.kneeSoftnessV(),
            0,
            java.util.List.of());
    Rig rig = new Rig(Kinds.perfectBench(), UNIT, quick.with("R 1mA", 1e-3));
    rig.live("1mA", 1e3);
    Rig.ok(rig.chamber, "SET 60");
    rig.rest(Duration.ofMinutes(15));
    double first = Rig.number(rig.thermometer, "TEMP?");
    assertTrue(Rig.number(rig.thermometer, "TEMP? 2") > first + 3, "the second follows faster");
    assertEquals("ERR no such position", Rig.ask(rig.thermometer, "TEMP? 3"));
    double one = Rig.number(rig.ammeter, "READ?");
    Rig.ok(rig.selector, "SOURCE OFF");
    Rig.say(rig.relays, "ROUT:CLOS (@2)");
    Rig.ok(rig.selector, "SOURCE ON");
    assertEquals(one / 1.001, Rig.number(rig.ammeter, "READ?"), 1e-9);
    assertTrue(Rig.number(rig.thermometer, "TEMP?") > first + 3, "that of the connected one");
  }

  @Test
  void aColdUnitWarmsUpAfterPowerOn() throws InterruptedException {
    SimulatedUnitSpec cold =
        new SimulatedUnitSpec(
            UNIT.ranges(),
            new SimulatedUnitSpec.Warmth(-100e-6, 900, 480),
            UNIT.noise(),
            UNIT.kneeSoftnessV(),
            0,
            java.util.List.of());
    Rig rig = new Rig(Kinds.perfectBench(), cold).live("1mA", 1e3);
    rig.rest(Duration.ofSeconds(900));
    double part = 1 - Rig.number(rig.ammeter, "READ?") / 1e-3;
    assertEquals(100e-6 * Math.exp(-1), part, 0.1e-6);
  }

  @Test
  void theCheckStandardGivesItsCurrentWhateverTheSourceDoes() {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT);
    Rig.ok(rig.load, "R 1000");
    Rig.say(rig.relays, "ROUT:CLOS (@S)");
    double shown = Rig.number(rig.ammeter, "READ?");
    assertEquals(rig.circuit.standard().currentA(), shown, 1e-9);
    assertEquals(1e-3, shown, 8e-6 * 1e-3);
    Rig.say(rig.relays, "ROUT:OPEN:ALL");
    assertEquals(0, Rig.number(rig.ammeter, "READ?"), 0);
    assertEquals(java.util.List.of(), rig.circuit.watch().mistreatments());
  }

  @Test
  void aMetersGainDriftsByTheDay() throws InterruptedException {
    SimulatedBenchSpec.MeterSpec drifting = Kinds.perfectBench().ammeter().drifting(100e-6);
    Rig rig = new Rig(Kinds.perfectBench().with(drifting), UNIT).live("1mA", 1000);
    double perDay = rig.circuit.truth().ammeter().driftPerDay();
    double before = Rig.number(rig.ammeter, "READ?");
    rig.rest(Duration.ofHours(48));
    double after = Rig.number(rig.ammeter, "READ?");
    assertTrue(Math.abs(perDay) <= 100e-6 && Math.abs(perDay) > 1e-6, "drift " + perDay);
    assertEquals(2 * perDay, after / before - 1, 1e-7);
  }

  @Test
  void anotherUnitTakesThePlaceOfOneAtRoomTemperature() throws InterruptedException {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT);
    Rig.ok(rig.chamber, "SET 50");
    rig.rest(Duration.ofHours(3));
    rig.circuit.lock().lock();
    rig.circuit.insert(
        "1", new SimulatedUnit(UNIT.with("R 1mA", 0.01), new millrace.time.Seeds(2)));
    rig.circuit.lock().unlock();
    rig.live("1mA", 1000);
    assertEquals(1e-3 / 1.01, Rig.number(rig.ammeter, "READ?"), 1e-8);
    assertEquals(22.9, Rig.number(rig.thermometer, "TEMP?"), 0.5);
    assertEquals(java.util.List.of(), rig.circuit.watch().mistreatments());
    rig.circuit.lock().lock();
    rig.circuit.insert("1", new SimulatedUnit(UNIT, new millrace.time.Seeds(3)));
    rig.circuit.lock().unlock();
    assertEquals(
        java.util.List.of("unit taken out of a live current loop"),
        rig.circuit.watch().mistreatments());
  }
}
