package millrace.sim;

import java.util.List;
import java.util.Optional;

/**
 * What a kind of simulated unit is made of: nominal values and the spread that units are drawn
 * from. Tolerances are half-widths of rectangular distributions.
 *
 * @param referenceV voltage of the reference, V
 * @param referenceTolerance a ratio
 * @param referenceTempcoPerK 1/K
 * @param amplifierOffsetV V
 * @param amplifierDriftVPerK V/K
 * @param beta current gain of a bipolar pass device; empty for an insulated gate
 * @param seriesDropV everything in series with the output, V
 * @param leakageOhm from output to ground at 23 degC, ohm
 * @param leakageDoublesK by how much its conductance doubles, K
 * @param outputPerV fall of the current per volt through finite gain, ratio per volt
 * @param supplyV V
 * @param supplyPerV rise of the current per volt of supply, ratio per volt
 * @param kneeSoftnessV how rounded the knee is, V
 * @param warmUp relative change from cold to warm
 * @param warmUpS its time constant, s
 * @param thermalLagS how the unit follows the air, s
 * @param whiteNoise relative noise of one reading of 1 s
 * @param flickerNoise relative slow noise
 * @param ranges its ranges
 */
public record UnitSpec(
    double referenceV,
    double referenceTolerance,
    double referenceTempcoPerK,
    double amplifierOffsetV,
    double amplifierDriftVPerK,
    Optional<Double> beta,
    double seriesDropV,
    double leakageOhm,
    double leakageDoublesK,
    double outputPerV,
    double supplyV,
    double supplyPerV,
    double kneeSoftnessV,
    double warmUp,
    double warmUpS,
    double thermalLagS,
    double whiteNoise,
    double flickerNoise,
    List<Range> ranges) {

  /** Copies the list. */
  public UnitSpec {
    ranges = List.copyOf(ranges);
    if (ranges.isEmpty()) {
      throw new IllegalArgumentException("a unit has at least one range");
    }
  }

  /**
   * One range.
   *
   * @param name its name
   * @param nominalA nominal current, A
   * @param setV voltage held across the resistor, V
   * @param resistorOhm the range resistor, ohm
   * @param resistorTolerance of it, a ratio
   * @param resistorTempcoPerK of it, 1/K
   */
  public record Range(
      String name,
      double nominalA,
      double setV,
      double resistorOhm,
      double resistorTolerance,
      double resistorTempcoPerK) {}

  /**
   * The invented unit of the demo: five decades from 1 uA to 10 mA from a 2.5 V reference.
   *
   * @return the specification
   */
  public static UnitSpec demo() {
    return new UnitSpec(
        2.5,
        40e-6,
        1.2e-6,
        20e-6,
        0.2e-6,
        Optional.empty(),
        0.7,
        400e9,
        10,
        0.3e-6,
        18,
        0.4e-6,
        0.12,
        -6e-6,
        900,
        480,
        0.4e-6,
        0.15e-6,
        List.of(
            range("1uA", 1e-6),
            range("10uA", 10e-6),
            range("100uA", 100e-6),
            range("1mA", 1e-3),
            range("10mA", 10e-3)));
  }

  private static Range range(String name, double nominalA) {
    return new Range(name, nominalA, 2.5, 2.5 / nominalA, 50e-6, 2.5e-6);
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
