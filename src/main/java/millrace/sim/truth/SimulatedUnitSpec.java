// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The parts of a kind of simulated unit: nominal values, and the spread of good units. Tolerances
 * are half-widths of rectangles. Parts of the same name are one part.
 *
 * @param ranges its ranges, in order; not empty, no two of one name
 * @param warmth its thermal behaviour
 * @param noise of its current
 * @param kneeSoftnessV how rounded the knee is, V, above 0
 * @param supplyPerV rise of the current per volt of supply, ratio per volt
 * @param defects its defects; empty for a good unit
 */
public record SimulatedUnitSpec(
    List<Range> ranges,
    Warmth warmth,
    Noise noise,
    double kneeSoftnessV,
    double supplyPerV,
    List<Defect> defects) {

  /** The temperature of the specified values, degC. */
  public static final double REFERENCE_DEGC = 23;

  /**
   * Suffix of the name of a reference or a resistor: the defect is in its tempco, not in its value.
   */
  public static final String TEMPCO = " tempco";

  /** Copies the lists and checks the components. */
  public SimulatedUnitSpec {
    ranges = List.copyOf(ranges);
    defects = List.copyOf(defects);
    SimValueChecks.notEmpty("ranges of a unit", ranges.size());
    SimValueChecks.above0("knee softness in V", kneeSoftnessV);
    long names = ranges.stream().map(Range::name).distinct().count();
    if (names < ranges.size()) {
      throw new IllegalArgumentException("a unit with two ranges of one name; expected one each");
    }
  }

  /**
   * One range. The set voltage is across the resistor; the drawn parts determine the current.
   *
   * @param name its name
   * @param nominalA nominal current, A
   * @param setV voltage held across the resistor, V, above 0
   * @param reference gives the set voltage
   * @param resistor the range resistor
   * @param amplifier holds the voltage
   * @param pass the pass device
   * @param drops the drops in series with the output
   * @param leakage from the output to ground
   * @param supply the supply
   */
  public record Range(
      String name,
      double nominalA,
      double setV,
      SimulatedPartSpec.Reference reference,
      SimulatedPartSpec.Resistor resistor,
      SimulatedPartSpec.Amplifier amplifier,
      SimulatedPartSpec.PassDevice pass,
      List<SimulatedPartSpec.Drop> drops,
      SimulatedPartSpec.Leakage leakage,
      SimulatedPartSpec.Supply supply) {
    /** Copies the list and checks the voltage. */
    public Range {
      drops = List.copyOf(drops);
      SimValueChecks.above0("set voltage in V", setV);
    }

    /**
     * Every part of the range.
     *
     * @return in a fixed order
     */
    List<SimulatedPartSpec> parts() {
      List<SimulatedPartSpec> parts =
          new ArrayList<>(List.of(reference, resistor, amplifier, pass, leakage, supply));
      parts.addAll(drops);
      return parts;
    }
  }

  /**
   * The thermal behaviour of a unit.
   *
   * @param warmUp relative change from cold to warm
   * @param warmUpS its time constant, s, above 0
   * @param lagS time constant with which the unit follows the air, s, above 0
   */
  public record Warmth(double warmUp, double warmUpS, double lagS) {
    /** Checks the time constants. */
    public Warmth {
      SimValueChecks.above0("warm-up time constant in s", warmUpS);
      SimValueChecks.above0("thermal lag in s", lagS);
    }
  }

  /**
   * Noise of the current, relative.
   *
   * @param white rms of the mean over 1 s, a ratio; falls as the square root of the time
   * @param flicker rms of the slow part per decade of time constant, a ratio
   */
  public record Noise(double white, double flicker) {
    /** Checks that neither is negative. */
    public Noise {
      SimValueChecks.from0("white noise", white);
      SimValueChecks.from0("flicker noise", flicker);
    }
  }

  /**
   * A defect of one part.
   *
   * @param part the name of the part, or that of a reference or resistor and {@link #TEMPCO}
   * @param size in the part's own terms: added relative error of a reference, a resistor or a pass
   *     device's gain; added volts of an amplifier's offset, a drop or a supply; for a leakage the
   *     factor by which it conducts more, less 1; of a tempco the added one, 1/K
   */
  public record Defect(String part, double size) {}

  /**
   * The invented unit of the demo: five decades from 1 uA to 10 mA from a 2.5 V reference, through
   * an insulated gate.
   *
   * @return the specification
   */
  public static SimulatedUnitSpec demo() {
    return new SimulatedUnitSpec(
        List.of(
            range("1uA", 1e-6, 2.5e6, 5),
            range("10uA", 10e-6, 250e3, 4),
            range("100uA", 100e-6, 25e3, 3),
            range("1mA", 1e-3, 2.5e3, 2),
            range("10mA", 10e-3, 250, 1)),
        new Warmth(-6e-6, 900, 480),
        new Noise(0.4e-6, 0.15e-6),
        0.12,
        0.4e-6,
        List.of());
  }

  private static Range range(String name, double nominalA, double ohm, int number) {
    return new Range(
        name,
        nominalA,
        2.5,
        new SimulatedPartSpec.Reference("REF", 40e-6, 1.2e-6),
        new SimulatedPartSpec.Resistor(
            "R" + number,
            ohm,
            50e-6,
            2.5e-6,
            Optional.of(new SimulatedPartSpec.Network("N1", 30e-6, 1e-6))),
        new SimulatedPartSpec.Amplifier("A1", 20e-6, 0.2e-6, 5e-15, 330e3),
        new SimulatedPartSpec.PassDevice("Q1", Optional.empty(), 1e-15, 10),
        List.of(new SimulatedPartSpec.Drop("D1", 0.7)),
        new SimulatedPartSpec.Leakage("L1", 200e9, 10),
        new SimulatedPartSpec.Supply("S1", 18, false));
  }

  /**
   * The unit of the fixed comparison of bench time: tempco of 2 ppm/K, noise of 1 ppm rms per
   * reading of ten cycles at 50 Hz, lag of 12 min.
   *
   * @return the specification
   */
  public static SimulatedUnitSpec comparison() {
    List<Range> ranges = demo().ranges().stream().map(SimulatedUnitSpec::withoutTempco).toList();
    return new SimulatedUnitSpec(
            ranges,
            new Warmth(-6e-6, 900, 720),
            new Noise(1e-6 * Math.sqrt(0.2), 0.05e-6),
            demo().kneeSoftnessV(),
            demo().supplyPerV(),
            List.of())
        .with("REF" + TEMPCO, 2e-6);
  }

  private static Range withoutTempco(Range r) {
    SimulatedPartSpec.Resistor resistor = r.resistor();
    SimulatedPartSpec.Amplifier amplifier = r.amplifier();
    return new Range(
        r.name(),
        r.nominalA(),
        r.setV(),
        new SimulatedPartSpec.Reference(r.reference().name(), r.reference().tolerance(), 0),
        new SimulatedPartSpec.Resistor(
            resistor.name(), resistor.ohm(), resistor.tolerance(), 0, Optional.empty()),
        new SimulatedPartSpec.Amplifier(
            amplifier.name(), amplifier.offsetV(), 0, amplifier.biasA(), amplifier.gain()),
        r.pass(),
        r.drops(),
        r.leakage(),
        r.supply());
  }

  /**
   * The same kind with a defect.
   *
   * @param part the name of a part of it
   * @param size its size, as {@link Defect} defines it
   * @return the kind with one more defect
   * @throws IllegalArgumentException if no range has a part of that name
   */
  public SimulatedUnitSpec with(String part, double size) {
    boolean known =
        ranges.stream()
            .flatMap(r -> Stream.of(r.reference(), r.resistor()))
            .anyMatch(p -> part.equals(p.name() + TEMPCO));
    known |= ranges.stream().flatMap(r -> r.parts().stream()).anyMatch(p -> part.equals(p.name()));
    if (!known) {
      throw new IllegalArgumentException("the unit has no part '" + part + "'");
    }
    List<Defect> more = new ArrayList<>(defects);
    more.add(new Defect(part, size));
    return new SimulatedUnitSpec(ranges, warmth, noise, kneeSoftnessV, supplyPerV, more);
  }

  /**
   * A range by its name.
   *
   * @param name the name
   * @return the range; empty if there is none of this name
   */
  public Optional<Range> range(String name) {
    return ranges.stream().filter(r -> r.name().equals(name)).findFirst();
  }
}
