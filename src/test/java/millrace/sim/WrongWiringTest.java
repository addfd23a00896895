// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.sim.fault.SimFault;
import millrace.sim.truth.Kinds;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What a bench that is wired wrong shows. */
class WrongWiringTest {
  private static final SimulatedUnitSpec UNIT = Kinds.of(Kinds.ideal("1mA", 5, 5e3));

  private static Rig rig(SimFault.Kind kind, boolean upstream, SimulatedUnitSpec... units) {
    SimulatedBenchSpec.WiringSpec wiring =
        new SimulatedBenchSpec.WiringSpec(0, 0, Kinds.IDEAL_OHM, upstream);
    Rig rig = new Rig(Kinds.perfectBench().with(wiring), units);
    rig.circuit.wrong(kind, true);
    rig.live("1mA", 1000);
    Rig.say(rig.ammeter, "CURR:RANG 2E-3");
    return rig;
  }

  @Test
  void reversedLeadsGiveNegativeReadings() {
    Rig rig = rig(SimFault.Kind.LEADS_REVERSED, false, UNIT);
    assertEquals(-1e-3, Rig.number(rig.ammeter, "READ?"), 1e-9);
    assertEquals(-1, Rig.number(rig.voltmeter, "READ?"), 1e-6);
  }

  @ParameterizedTest
  @EnumSource(names = {"LEAD_OPEN", "FUSE_BLOWN"})
  void anOpenLoopHasNoCurrentAndTheTerminalsAtTheRail(SimFault.Kind kind) {
    Rig rig = rig(kind, true, UNIT);
    assertEquals(0, Rig.number(rig.ammeter, "READ?"), 1e-12);
    assertEquals("0,\"No error\"", Rig.ask(rig.ammeter, "SYST:ERR?"));
    assertEquals(15, Rig.number(rig.voltmeter, "READ?"), 1e-3);
    assertEquals(0, Rig.number(rig(kind, false, UNIT).voltmeter, "READ?"), 1e-9);
  }

  /** 5 ohm of burden beside 1000 ohm: the load gets 5/1005 of the current (common practice). */
  @Test
  void aMeterAcrossTheOutputTakesTheCurrentPastTheLoad() {
    Rig rig = rig(SimFault.Kind.METER_ACROSS_OUTPUT, false, UNIT);
    assertEquals(1e-3 * 1000 / 1005, Rig.number(rig.ammeter, "READ?"), 1e-9);
    assertEquals(1e-3 * 1000 * 5 / 1005, Rig.number(rig.voltmeter, "READ?"), 1e-6);
  }

  @Test
  void swappedSlotsShowTheOtherUnit() {
    Rig rig = rig(SimFault.Kind.SLOTS_SWAPPED, false, UNIT, UNIT.with("R 1mA", 0.01));
    assertEquals(1e-3 / 1.01, Rig.number(rig.ammeter, "READ?"), 1e-9);
    Rig.ok(rig.selector, "SOURCE OFF");
    Rig.say(rig.relays, "ROUT:CLOS (@2)");
    Rig.ok(rig.selector, "SOURCE ON");
    assertEquals(1e-3, Rig.number(rig.ammeter, "READ?"), 1e-9);
  }

  @Test
  void aThermometerAsideDoesNotFollowTheChamber() throws InterruptedException {
    Rig rig = rig(SimFault.Kind.THERMOMETER_ASIDE, false, UNIT);
    Rig.ok(rig.chamber, "SET 50");
    rig.rest(Duration.ofHours(3));
    assertTrue(Rig.number(rig.thermometer, "TEMP?") < 24);
    assertTrue(Rig.number(rig.chamber, "TEMP?") > 49);
  }

  @Test
  void whatAMeterGaveIsKeptWithTheConditionsItBelongsTo() {
    Rig rig = new Rig(Kinds.perfectBench(), UNIT).live("1mA", 1000);
    String reply = Rig.ask(rig.ammeter, "READ?");
    List<SimMeterReply> given = rig.circuit.given();
    assertEquals(1, given.size());
    assertEquals(reply, given.get(0).reply());
    assertEquals("ammeter", given.get(0).instrument());
    assertEquals(Optional.of("1mA"), given.get(0).range());
    assertEquals(1000, given.get(0).loadOhm(), 1e-9);
    assertEquals("1", given.get(0).position());
    assertEquals(23, given.get(0).unitDegC(), 0.01);
  }
}
