// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.SimInstrumentNames;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The bench file of the simulated bench states what the simulation draws from. */
class SimulatedBenchFileTest {
  private static final SimulatedBenchSpec SPEC = SimulatedBenchSpec.demo();

  private static Map<String, String> addresses() {
    Map<String, String> all = new LinkedHashMap<>();
    SimInstrumentNames.NAMES.forEach(name -> all.put(name, "tcp 127.0.0.1:" + (5000 + all.size())));
    return all;
  }

  private static BenchFile file(List<String> positions) {
    String text = SimulatedBenchFile.text(addresses(), positions);
    return BenchForms.read("simulated", text.getBytes(StandardCharsets.UTF_8));
  }

  private static BenchFile file() {
    return file(List.of("1"));
  }

  private static RoleFacts facts(RoleName role) {
    return file().facts(role).orElseThrow();
  }

  @Test
  void everyInstrumentIsThereWithItsAddressAndTheFileSaysThatItIsSimulated() {
    BenchFile file = file();
    assertTrue(file.simulated());
    addresses()
        .forEach(
            (name, address) ->
                assertEquals(address, file.instruments().get(name).address().toString()));
    assertEquals(Map.of("1", "1"), file.slots());
  }

  @Test
  void severalUnitsSitInSlots() {
    assertEquals(Map.of("1", "1", "2", "2", "3", "3"), file(List.of("1", "2", "3")).slots());
  }

  @Test
  void terminalsAreSerialAddresses() {
    Map<String, String> terminals =
        SimulatedBenchFile.terminals(Map.of("load", Path.of("/somewhere/load")));
    assertEquals(Map.of("load", "serial /somewhere/load"), terminals);
  }

  @Test
  void theCurrentMetersStatementIsWhatItsErrorsAreDrawnFrom() {
    for (int i = 0; i < SPEC.ammeter().fullScales().size(); i++) {
      AccuracyStatement stated =
          facts(RoleName.CURRENT_METER).forRange(SPEC.ammeter().fullScales().get(i)).orElseThrow();
      assertMeter(SPEC.ammeter(), stated);
      assertEquals(SPEC.ammeter().transfer(), stated.transfer().orElseThrow(), 1e-12);
      assertEquals(SPEC.ammeter().resistanceOhm().get(i), stated.burdenOhm(), 1e-9);
      assertStandardOf(SPEC.ammeter().resistance(), stated.burdenUncertainty());
    }
  }

  private static void assertMeter(SimulatedBenchSpec.MeterSpec spec, AccuracyStatement stated) {
    assertEquals(spec.ofReading(), stated.ofReading(), 1e-12);
    assertEquals(spec.ofRange(), stated.ofFullScale(), 1e-12);
    assertTrue(stated.coverageFactor().isEmpty(), "limits of a rectangle");
  }

  /**
   * A rectangle of half-width a has the standard uncertainty a/sqrt(3), stated a little rounded up.
   */
  private static void assertStandardOf(double halfWidth, double stated) {
    double exact = halfWidth / Math.sqrt(3);
    assertTrue(stated >= exact && stated <= 1.05 * exact, stated + " for " + exact);
  }

  @Test
  void theVoltmetersStatementIsWhatItsErrorsAreDrawnFrom() {
    for (int i = 0; i < SPEC.voltmeter().fullScales().size(); i++) {
      AccuracyStatement stated =
          facts(RoleName.VOLTMETER).forRange(SPEC.voltmeter().fullScales().get(i)).orElseThrow();
      assertMeter(SPEC.voltmeter(), stated);
      assertEquals(SPEC.voltmeter().resistanceOhm().get(i), stated.inputOhm().orElseThrow());
      assertStandardOf(SPEC.voltmeter().resistance(), stated.inputUncertainty());
    }
    assertEquals(0, SPEC.voltmeter().transfer(), "none is stated");
  }

  @Test
  void loadChamberAndThermometerAreStatedLikewise() {
    AccuracyStatement load = facts(RoleName.LOAD).forRange(0).orElseThrow();
    assertEquals(SPEC.load().ofReading(), load.ofReading(), 1e-12);
    assertTrue(SPEC.load().residualOhm() <= load.absolute());
    assertEquals(
        SPEC.chamber().sensorK(), facts(RoleName.CHAMBER).accuracy().get(0).absolute(), 1e-12);
    assertEquals(
        SPEC.unitThermometerK(),
        facts(RoleName.UNIT_THERMOMETER).accuracy().get(0).absolute(),
        1e-12);
  }

  @Test
  void theWiringIsStatedLikewise() {
    BenchFile.Wiring wiring = file().wiring();
    assertEquals(SPEC.wiring().leadsOhm(), wiring.leadsOhm(), 1e-12);
    assertEquals(SPEC.wiring().insulationOhm(), wiring.insulationOhm().orElseThrow(), 1);
    assertEquals(BenchFile.VoltmeterPlace.ACROSS_LOAD, wiring.voltmeter().orElseThrow());
    assertFalse(SPEC.wiring().voltmeterUpstream());
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
  void theCheckStandardIsWhatIsStated(long seed) {
    BenchFile.Standard stated = file().standards().get("steady");
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    SimulatedBench.Settings settings = SimulatedBench.Settings.demo(new Seeds(seed));
    try (SimulatedBench bench = SimulatedBench.start(settings, clock)) {
      double halfWidth = Math.sqrt(3) * stated.standardUncertaintyA();
      assertEquals(stated.currentA(), bench.standardA(), halfWidth);
      assertEquals("S", stated.position());
    }
  }
}
