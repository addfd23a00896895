package millrace.sim;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.SplittableRandom;
import millrace.time.Seeds;

/**
 * One simulated unit with its true values. The current follows from the voltage held across a
 * resistor, less what a bipolar pass device takes into its base, less what leaks to ground at the
 * output; it collapses softly when the headroom is used up.
 *
 * <p>Immutable and thread-safe.
 */
public final class Unit {
  /** The temperature at which the spec's values hold, degC. */
  public static final double REFERENCE_DEGC = 23;

  private final UnitSpec spec;
  private final double referenceError;
  private final double referenceTempcoPerK;
  private final double offsetV;
  private final double driftVPerK;
  private final double leakageOhm;
  private final double outputPerV;
  private final Map<String, double[]> resistors = new LinkedHashMap<>();

  /**
   * Draws a unit.
   *
   * @param spec the kind
   * @param seeds what it is drawn with
   */
  public Unit(UnitSpec spec, Seeds seeds) {
    this.spec = spec;
    SplittableRandom random = seeds.stream("unit");
    referenceError = between(random, spec.referenceTolerance());
    referenceTempcoPerK = between(random, spec.referenceTempcoPerK());
    offsetV = between(random, spec.amplifierOffsetV());
    driftVPerK = between(random, spec.amplifierDriftVPerK());
    leakageOhm = spec.leakageOhm() * Math.exp(random.nextDouble(-0.7, 0.7));
    outputPerV = spec.outputPerV() * Math.exp(random.nextDouble(-0.7, 0.7));
    double commonTempco = between(random, 0.8);
    for (UnitSpec.Range range : spec.ranges()) {
      double error = between(random, range.resistorTolerance());
      double tempco = range.resistorTempcoPerK() * (commonTempco + between(random, 0.2));
      resistors.put(range.name(), new double[] {error, tempco});
    }
  }

  static double between(SplittableRandom random, double halfWidth) {
    return halfWidth * random.nextDouble(-1, 1);
  }

  /**
   * What the unit is made of.
   *
   * @return its specification
   */
  public UnitSpec spec() {
    return spec;
  }

  /**
   * The current without its noise and warm, as a function of the voltage at the terminals.
   *
   * @param range the name of a range
   * @param terminalV voltage at the terminals, V
   * @param unitDegC temperature of the unit, degC
   * @param supplyV supply voltage, V
   * @return the current, A
   */
  public double currentA(String range, double terminalV, double unitDegC, double supplyV) {
    UnitSpec.Range r =
        spec.range(range).orElseThrow(() -> new IllegalArgumentException("no range " + range));
    double dT = unitDegC - REFERENCE_DEGC;
    double[] resistor = resistors.get(range);
    double held =
        r.setV() * (1 + referenceError + referenceTempcoPerK * dT) + offsetV + driftVPerK * dT;
    double set = held / (r.resistorOhm() * (1 + resistor[0] + resistor[1] * dT));
    double passed = spec.beta().map(beta -> set * beta / (beta + 1)).orElse(set);
    double regulated =
        passed * (1 - outputPerV * terminalV + spec.supplyPerV() * (supplyV - spec.supplyV()));
    double leak = terminalV / leakageOhm * Math.exp(Math.log(2) * dT / spec.leakageDoublesK());
    return knee(regulated, headroomV(r, supplyV) - terminalV) - leak;
  }

  private double headroomV(UnitSpec.Range range, double supplyV) {
    return supplyV - range.setV() - spec.seriesDropV();
  }

  /** Full current while there is headroom; none of it is left where there is none. */
  private double knee(double currentA, double headroomV) {
    if (headroomV <= 0) {
      return 0;
    }
    return currentA * -Math.expm1(-headroomV / spec.kneeSoftnessV());
  }

  /**
   * The relative change by which the unit is still off, some time after power-on.
   *
   * @param onS seconds since power-on
   * @return a ratio
   */
  double warmUp(double onS) {
    return spec.warmUp() * Math.exp(-onS / spec.warmUpS());
  }

  /**
   * The true output conductance -dI/dV in the plateau.
   *
   * @param range the name of a range
   * @param terminalV where, V
   * @param unitDegC temperature of the unit, degC
   * @return S
   */
  public double outputConductanceS(String range, double terminalV, double unitDegC) {
    double h = 0.5;
    double low = currentA(range, terminalV - h, unitDegC, spec.supplyV());
    double high = currentA(range, terminalV + h, unitDegC, spec.supplyV());
    return (low - high) / (2 * h);
  }

  /**
   * The true compliance voltage: where the current has fallen by the criterion below the straight
   * continuation of its plateau (from 0 to 4 V).
   *
   * @param range the name of a range
   * @param criterion the fall, a ratio
   * @param unitDegC temperature of the unit, degC
   * @return V
   */
  public double complianceV(String range, double criterion, double unitDegC) {
    double supplyV = spec.supplyV();
    double short0 = currentA(range, 0, unitDegC, supplyV);
    double slope = (currentA(range, 4, unitDegC, supplyV) - short0) / 4;
    double low = 4;
    double high = supplyV;
    for (int i = 0; i < 100; i++) {
      double middle = (low + high) / 2;
      double line = short0 + slope * middle;
      if (currentA(range, middle, unitDegC, supplyV) > (1 - criterion) * line) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  }
}
