// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Kinds of unit that are ideal but for one thing. */
public final class Kinds {
  static final double IDEAL_GAIN = 1e18;
  public static final double IDEAL_OHM = 1e30;
  static final double SUPPLY_V = 20;
  static final double SOFTNESS_V = 0.1;

  private Kinds() {}

  /** One range from a perfect voltage across a perfect resistor. */
  public static SimulatedUnitSpec.Range ideal(String name, double setV, double ohm) {
    return new SimulatedUnitSpec.Range(
        name,
        setV / ohm,
        setV,
        new SimulatedPartSpec.Reference("REF", 0, 0),
        new SimulatedPartSpec.Resistor("R " + name, ohm, 0, 0, Optional.empty()),
        new SimulatedPartSpec.Amplifier("A1", 0, 0, 0, IDEAL_GAIN),
        new SimulatedPartSpec.PassDevice("Q1", Optional.empty(), 0, 1),
        List.of(),
        new SimulatedPartSpec.Leakage("L1", IDEAL_OHM, 10),
        new SimulatedPartSpec.Supply("S1", SUPPLY_V, false));
  }

  public static SimulatedUnitSpec of(SimulatedUnitSpec.Range... ranges) {
    return new SimulatedUnitSpec(
        List.of(ranges),
        new SimulatedUnitSpec.Warmth(0, 900, 480),
        new SimulatedUnitSpec.Noise(0, 0),
        SOFTNESS_V,
        0,
        List.of());
  }

  public static SimulatedUnitSpec with(SimulatedUnitSpec spec, SimulatedUnitSpec.Noise noise) {
    return new SimulatedUnitSpec(
        spec.ranges(), spec.warmth(), noise, spec.kneeSoftnessV(), spec.supplyPerV(), List.of());
  }

  /** The same range with one part exchanged. */
  public static SimulatedUnitSpec.Range with(SimulatedUnitSpec.Range r, SimulatedPartSpec part) {
    List<SimulatedPartSpec.Drop> drops = new ArrayList<>(r.drops());
    if (part instanceof SimulatedPartSpec.Drop drop) {
      drops.add(drop);
    }
    return new SimulatedUnitSpec.Range(
        r.name(),
        r.nominalA(),
        r.setV(),
        part instanceof SimulatedPartSpec.Reference p ? p : r.reference(),
        part instanceof SimulatedPartSpec.Resistor p ? p : r.resistor(),
        part instanceof SimulatedPartSpec.Amplifier p ? p : r.amplifier(),
        part instanceof SimulatedPartSpec.PassDevice p ? p : r.pass(),
        drops,
        part instanceof SimulatedPartSpec.Leakage p ? p : r.leakage(),
        part instanceof SimulatedPartSpec.Supply p ? p : r.supply());
  }

  /** A bench without errors and noise. */
  public static SimulatedBenchSpec perfectBench() {
    SimulatedBenchSpec demo = SimulatedBenchSpec.demo();
    return new SimulatedBenchSpec(
        perfect(demo.ammeter()),
        perfect(demo.voltmeter()),
        new SimulatedBenchSpec.LoadSpec(0, 0),
        new SimulatedBenchSpec.ChamberSpec(0, 2.0 / 60, 240, 0, true),
        0,
        new SimulatedBenchSpec.WiringSpec(0, 0, IDEAL_OHM, false),
        java.util.Optional.empty());
  }

  private static SimulatedBenchSpec.MeterSpec perfect(SimulatedBenchSpec.MeterSpec m) {
    return new SimulatedBenchSpec.MeterSpec(
        m.fullScales(), 0, 0, 0, m.resistanceOhm(), 0, 0, m.resolution() * 1e-3, 0);
  }

  public static SimulatedBenchSpec.MeterSpec withInput(SimulatedBenchSpec.MeterSpec m, double ohm) {
    List<Double> all = m.fullScales().stream().map(f -> ohm).toList();
    return new SimulatedBenchSpec.MeterSpec(
        m.fullScales(),
        m.ofReading(),
        m.ofRange(),
        m.transfer(),
        all,
        m.resistance(),
        m.noiseOfRange(),
        m.resolution(),
        0);
  }
}
