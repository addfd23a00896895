// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.time.Seeds;

/**
 * One simulated unit with its true values, drawn once from the spread of its kind.
 *
 * <p>Immutable and thread-safe.
 */
public final class SimulatedUnit {
  /**
   * The factor by which the gain of a good amplifier may be higher, and the leakage of a good
   * output lower, than specified.
   */
  private static final double BETTER = 3;

  private static final double JUNCTION_V = 0.65;
  private static final double JUNCTION_V_PER_K = -2e-3;

  /** A typical bipolar device, and the scatter of its kind. */
  private static final double BASE_EARLY_V = 80;

  private static final double BASE_PER_K = 6e-3;
  private static final double BASE_SPREAD = 0.3;

  private final SimulatedUnitSpec spec;
  private final TrueValueDraw draw;
  private final Map<String, TrueRange> ranges = new LinkedHashMap<>();

  /**
   * Draws a unit.
   *
   * @param spec the kind
   * @param seeds the seeds
   */
  public SimulatedUnit(SimulatedUnitSpec spec, Seeds seeds) {
    this(spec, new TrueValueDraw(seeds));
  }

  private SimulatedUnit(SimulatedUnitSpec spec, TrueValueDraw draw) {
    this.spec = spec;
    this.draw = draw;
    spec.ranges().forEach(r -> ranges.put(r.name(), drawn(r)));
  }

  /**
   * A unit in which every part has its nominal value.
   *
   * @param spec the kind
   * @return the unit
   */
  public static SimulatedUnit nominal(SimulatedUnitSpec spec) {
    return new SimulatedUnit(spec, TrueValueDraw.NOMINAL);
  }

  private TrueRange drawn(SimulatedUnitSpec.Range r) {
    SimulatedPartSpec.Amplifier amplifier = r.amplifier();
    double gain = amplifier.gain() * draw.upTo(amplifier.name() + " gain", BETTER);
    double dropV = r.drops().stream().mapToDouble(d -> d.volts() + defect(d)).sum();
    return new TrueRange(
        r.setV(),
        draw.within(r.reference().name(), r.reference().tolerance()) + defect(r.reference()),
        draw.within(r.reference().name() + " tempco", r.reference().tempcoPerK())
            + defect(r.reference().name() + SimulatedUnitSpec.TEMPCO),
        r.resistor().ohm() * (1 + resistorError(r.resistor()) + defect(r.resistor())),
        resistorTempcoPerK(r.resistor()) + defect(r.resistor().name() + SimulatedUnitSpec.TEMPCO),
        draw.within(amplifier.name(), amplifier.offsetV()) + defect(amplifier),
        draw.within(amplifier.name() + " drift", amplifier.driftVPerK()),
        takenA(r),
        gain,
        base(r.pass(), r.supply().volts() - r.setV() - dropV),
        1 / (r.pass().earlyV() * gain),
        dropV,
        JUNCTION_V_PER_K * dropV / JUNCTION_V,
        (1 + defect(r.leakage())) / (r.leakage().ohm() * draw.upTo(r.leakage().name(), BETTER)),
        r.leakage().doublesK(),
        r.supply().volts(),
        -defect(r.supply()),
        spec.supplyPerV(),
        spec.kneeSoftnessV());
  }

  private double takenA(SimulatedUnitSpec.Range r) {
    return draw.within(r.amplifier().name() + " bias", r.amplifier().biasA())
        + Math.abs(draw.within(r.pass().name() + " gate", r.pass().gateLeakageA()));
  }

  private PassDeviceBaseCurrent base(SimulatedPartSpec.PassDevice pass, double acrossV) {
    double share = pass.beta().map(b -> 1 / (b * (1 + defect(pass)) + 1)).orElse(0.0);
    double earlyV = BASE_EARLY_V * (1 + draw.within(pass.name() + " early", BASE_SPREAD));
    double perK = BASE_PER_K * (1 + draw.within(pass.name() + " beta tempco", BASE_SPREAD));
    return new PassDeviceBaseCurrent(share, earlyV, acrossV, perK);
  }

  private double defect(SimulatedPartSpec part) {
    return defect(part.name());
  }

  private double defect(String part) {
    return spec.defects().stream()
        .filter(d -> d.part().equals(part))
        .mapToDouble(SimulatedUnitSpec.Defect::size)
        .sum();
  }

  private double resistorError(SimulatedPartSpec.Resistor r) {
    double tracking = r.network().map(SimulatedPartSpec.Network::trackingTolerance).orElse(0.0);
    return shared(r, "", r.tolerance(), tracking);
  }

  private double resistorTempcoPerK(SimulatedPartSpec.Resistor r) {
    double tracking = r.network().map(SimulatedPartSpec.Network::trackingTempcoPerK).orElse(0.0);
    return shared(r, " tempco", r.tempcoPerK(), tracking);
  }

  /**
   * Sums a deviation shared by the substrate and an individual one: any ratio stays within the
   * tracking, each value within its tolerance.
   */
  private double shared(
      SimulatedPartSpec.Resistor r, String what, double tolerance, double tracking) {
    Optional<SimulatedPartSpec.Network> network = r.network();
    if (network.isEmpty()) {
      return draw.within(r.name() + what, tolerance);
    }
    double own = Math.min(tracking, tolerance) / 2;
    return draw.within(network.get().name() + " network" + what, tolerance - own)
        + draw.within(r.name() + what, own);
  }

  /**
   * The specification of the unit.
   *
   * @return its specification
   */
  public SimulatedUnitSpec spec() {
    return spec;
  }

  TrueRange range(String name) {
    TrueRange range = ranges.get(name);
    if (range == null) {
      throw new IllegalArgumentException(
          "the unit has no range '" + name + "'; expected one of " + ranges.keySet());
    }
    return range;
  }

  /**
   * The current of the warm unit without noise, as a function of the voltage at the terminals.
   *
   * @param range the name of a range
   * @param terminalV voltage at the terminals, V
   * @param unitDegC temperature of the unit, degC
   * @param supplyV supply voltage, V
   * @return the current, A
   */
  public double currentA(String range, double terminalV, double unitDegC, double supplyV) {
    return range(range).currentA(terminalV, unitDegC, supplyV);
  }

  /**
   * The relative deviation of the current by warm-up, some time after power-on.
   *
   * @param onS seconds since power-on
   * @return a ratio
   */
  public double warmUp(double onS) {
    return spec.warmth().warmUp() * Math.exp(-onS / spec.warmth().warmUpS());
  }

  /**
   * The true results of one range: those of a perfect bench.
   *
   * @param range the name of a range
   * @param unitDegC temperature of the unit, degC
   * @return the results, at the design supply of the range
   */
  public PerfectBenchResults truth(String range, double unitDegC) {
    return truth(range, unitDegC, range(range).designSupplyV());
  }

  /**
   * The true results of one range at a supply voltage.
   *
   * @param range the name of a range
   * @param unitDegC temperature of the unit, degC
   * @param supplyV supply voltage, V
   * @return the results
   */
  public PerfectBenchResults truth(String range, double unitDegC, double supplyV) {
    return new PerfectBenchResults(range(range), unitDegC, supplyV);
  }

  /**
   * The true slope of I/I_ref - 1 over the temperature, least squares over some temperatures
   * (methods.md 5.2).
   *
   * @param range the name of a range
   * @param terminalV voltage at the terminals, V
   * @param unitDegC at least two different temperatures of the unit, degC
   * @return 1/K, about the current at 23 degC
   */
  public double tempcoPerK(String range, double terminalV, List<Double> unitDegC) {
    double mean = unitDegC.stream().mapToDouble(t -> t).average().orElseThrow();
    double above = 0;
    double below = 0;
    for (double t : unitDegC) {
      above += (t - mean) * currentA(range, terminalV, t);
      below += (t - mean) * (t - mean);
    }
    return above / below / currentA(range, terminalV, SimulatedUnitSpec.REFERENCE_DEGC);
  }

  /**
   * The true box tempco over some temperatures: the whole span of the current over the whole span
   * of the temperature (methods.md 5.3).
   *
   * @param range the name of a range
   * @param terminalV voltage at the terminals, V
   * @param unitDegC at least two different temperatures of the unit, degC
   * @return 1/K, about the current at 23 degC; never negative
   */
  public double boxPerK(String range, double terminalV, List<Double> unitDegC) {
    var current = unitDegC.stream().mapToDouble(t -> currentA(range, terminalV, t));
    var amperes = current.summaryStatistics();
    var degrees = unitDegC.stream().mapToDouble(t -> t).summaryStatistics();
    return (amperes.getMax() - amperes.getMin())
        / (degrees.getMax() - degrees.getMin())
        / currentA(range, terminalV, SimulatedUnitSpec.REFERENCE_DEGC);
  }

  /**
   * The supply that a range has inside the unit.
   *
   * @param range the name of a range
   * @return V; empty if the supply of the bench feeds it, or there is no such range
   */
  public OptionalDouble ownSupplyV(String range) {
    return spec.range(range).map(SimulatedUnitSpec.Range::supply).stream()
        .filter(SimulatedPartSpec.Supply::own)
        .mapToDouble(SimulatedPartSpec.Supply::volts)
        .findFirst();
  }

  private double currentA(String range, double terminalV, double unitDegC) {
    return currentA(range, terminalV, unitDegC, range(range).designSupplyV());
  }
}
