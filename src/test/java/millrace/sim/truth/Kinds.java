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
  public static UnitSpec.Range ideal(String name, double setV, double ohm) {
    return new UnitSpec.Range(
        name,
        setV / ohm,
        setV,
        new PartSpec.Reference("REF", 0, 0),
        new PartSpec.Resistor("R " + name, ohm, 0, 0, Optional.empty()),
        new PartSpec.Amplifier("A1", 0, 0, 0, IDEAL_GAIN),
        new PartSpec.PassDevice("Q1", Optional.empty(), 0, 1),
        List.of(),
        new PartSpec.Leakage("L1", IDEAL_OHM, 10),
        new PartSpec.Supply("S1", SUPPLY_V));
  }

  public static UnitSpec of(UnitSpec.Range... ranges) {
    return new UnitSpec(
        List.of(ranges),
        new UnitSpec.Warmth(0, 900, 480),
        new UnitSpec.Noise(0, 0),
        SOFTNESS_V,
        0,
        List.of());
  }

  public static UnitSpec with(UnitSpec spec, UnitSpec.Noise noise) {
    return new UnitSpec(
        spec.ranges(), spec.warmth(), noise, spec.kneeSoftnessV(), spec.supplyPerV(), List.of());
  }

  /** The same range with one part exchanged. */
  public static UnitSpec.Range with(UnitSpec.Range r, PartSpec part) {
    List<PartSpec.Drop> drops = new ArrayList<>(r.drops());
    if (part instanceof PartSpec.Drop drop) {
      drops.add(drop);
    }
    return new UnitSpec.Range(
        r.name(),
        r.nominalA(),
        r.setV(),
        part instanceof PartSpec.Reference p ? p : r.reference(),
        part instanceof PartSpec.Resistor p ? p : r.resistor(),
        part instanceof PartSpec.Amplifier p ? p : r.amplifier(),
        part instanceof PartSpec.PassDevice p ? p : r.pass(),
        drops,
        part instanceof PartSpec.Leakage p ? p : r.leakage(),
        part instanceof PartSpec.Supply p ? p : r.supply());
  }

  /** A bench without errors and noise. */
  public static BenchSpec perfectBench() {
    BenchSpec demo = BenchSpec.demo();
    return new BenchSpec(
        perfect(demo.ammeter()),
        perfect(demo.voltmeter()),
        new BenchSpec.LoadSpec(0, 0),
        new BenchSpec.ChamberSpec(0, 2.0 / 60, 240, 0, true),
        0,
        new BenchSpec.WiringSpec(0, 0, IDEAL_OHM, false),
        java.util.Optional.empty());
  }

  private static BenchSpec.MeterSpec perfect(BenchSpec.MeterSpec m) {
    return new BenchSpec.MeterSpec(
        m.fullScales(), 0, 0, 0, m.resistanceOhm(), 0, 0, m.resolution() * 1e-3, 0);
  }

  public static BenchSpec.MeterSpec withInput(BenchSpec.MeterSpec m, double ohm) {
    List<Double> all = m.fullScales().stream().map(f -> ohm).toList();
    return new BenchSpec.MeterSpec(
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
