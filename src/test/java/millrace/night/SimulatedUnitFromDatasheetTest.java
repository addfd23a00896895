// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.stream.LongStream;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.sim.truth.PerfectBenchResults;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Simulated units of a datasheet: what it says counts, and good units keep its promises. */
class SimulatedUnitFromDatasheetTest {
  private static final String WITHOUT_PARTS =
      """
      datasheet: BX5 excitation source
      open-circuit voltage: 14 V
      thermal time constant: 12 min
      compliance: {voltage: 9 V, criterion: 0.1 %, relative to: line}
      ranges:
        100uA: {nominal: 100 uA}
        10mA: {nominal: 10 mA}
      limits:
        - {quantity: current_error, range: 100uA, lower: -40 ppm, upper: 50 ppm,
           when: {terminal voltage: [0 V, 8 V]}}
        - {quantity: tempco, range: all, lower: -2 ppm/K, upper: 2 ppm/K}
      """;

  private static final String WITH_PARTS =
      """
      datasheet: BX5 excitation source
      parts:
        REF: {kind: reference, value: 4.096 V, tolerance: 0.05 %, tempco: 3 ppm/K}
        R1: {kind: resistor, value: 4.096 kohm, tolerance: 0.05 %, tempco: 10 ppm/K,
          network: N1, tracking tolerance: 0.01 %, tracking tempco: 1 ppm/K}
        R2: {kind: resistor, value: 40.96 kohm, tolerance: 0.05 %, tempco: 10 ppm/K,
          network: N1, tracking tolerance: 0.01 %, tracking tempco: 1 ppm/K}
        A1: {kind: amplifier, offset: 30 uV, drift: 0.3 uV/K, bias: 5 pA, gain: 120 dB}
        Q1: {kind: pass device, type: bipolar, beta: 150}
        D1: {kind: series drop, voltage: 0.6 V}
        L1: {kind: leakage, resistance: 200 Gohm, doubles every: 10 K}
        S1: {kind: supply, voltage: 15 V}
      ranges:
        1mA: {nominal: 1 mA, made from: {reference: REF, set voltage: 4.096 V, resistor: R1,
          amplifier: A1, pass device: Q1, series: [D1], leakage: L1, supply: S1}}
        100uA: {nominal: 100 uA, made from: {reference: REF, set voltage: 4.096 V, resistor: R2,
          amplifier: A1, pass device: Q1, series: [D1], leakage: L1, supply: S1}}
      """;

  static LongStream seeds() {
    return LongStream.rangeClosed(1, 100);
  }

  private static Datasheet sheet(String text) {
    return DatasheetFile.read("sheet.yaml", text.getBytes(StandardCharsets.UTF_8));
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void aGoodUnitKeepsWhatADatasheetWithoutPartsPromises(long seed) {
    SimulatedUnit unit =
        new SimulatedUnit(SimulatedUnitFromDatasheet.of(sheet(WITHOUT_PARTS)), new Seeds(seed));
    double error = unit.truth("100uA", 23).currentA(0) / 100e-6 - 1;
    assertTrue(Math.abs(error) < 40e-6, "error " + error);
    double tempco = unit.tempcoPerK("10mA", 0, java.util.List.of(5.0, 23.0, 45.0));
    assertTrue(Math.abs(tempco) < 2e-6, "tempco " + tempco);
    assertTrue(unit.truth("10mA", 5).line(1e-3).complianceV() > 9);
  }

  @Test
  void theUnitOfTheDemoIsThatOfTheExampleDatasheet() {
    Path example = Path.of("examples", "fx-3.datasheet.yaml");
    assertEquals(
        SimulatedUnitSpec.demo(), SimulatedUnitFromDatasheet.of(DatasheetFile.read(example)));
  }

  @Test
  void theThermalTimeConstantIsTheUnitsLag() {
    assertEquals(720, SimulatedUnitFromDatasheet.of(sheet(WITHOUT_PARTS)).warmth().lagS());
  }

  /** 4.096 V over 4.096 kohm is 1 mA, of which a beta of 150 passes 150/151 (common practice). */
  @ParameterizedTest
  @MethodSource("seeds")
  void partsOfTheDatasheetMakeTheCurrentAndTheCompliance(long seed) {
    SimulatedUnitSpec kind = SimulatedUnitFromDatasheet.of(sheet(WITH_PARTS));
    SimulatedUnit unit = new SimulatedUnit(kind, new Seeds(seed));
    PerfectBenchResults truth = unit.truth("1mA", 23);
    double most = 500e-6 + 500e-6 + 30e-6 / 4.096 + 1e-6;
    assertEquals(1e-3 * 150 / 151, truth.currentA(0), 1.01 * most * 1e-3);
    assertEquals(15 - 4.096 - 0.6, truth.collapseV(), 1e-9);
    double ratio = truth.currentA(0) / unit.truth("100uA", 23).currentA(0) / 10 - 1;
    assertTrue(Math.abs(ratio) < 100e-6 + 2 * 5e-12 / 100e-6 + 1e-6, "tracking " + ratio);
  }

  @Test
  void aDefectOfANamedPartStrikesEveryRangeThatHasIt() {
    SimulatedUnitSpec kind = SimulatedUnitFromDatasheet.of(sheet(WITH_PARTS));
    SimulatedUnit good = new SimulatedUnit(kind, new Seeds(1));
    SimulatedUnit bad = new SimulatedUnit(kind.with("REF", 0.01), new Seeds(1));
    for (String range : java.util.List.of("1mA", "100uA")) {
      double ratio = bad.truth(range, 23).currentA(0) / good.truth(range, 23).currentA(0);
      assertEquals(1.01, ratio, 1e-5);
    }
  }
}
