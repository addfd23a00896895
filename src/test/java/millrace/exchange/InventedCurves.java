// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.time.Seeds;

/**
 * Curves of units of an invented four-range design as somebody else's bench would hand them over:
 * parts drawn from their tolerances, every tempco curved, a knee that is soft. Its formulas are
 * written anew, not taken from the model that is tested.
 */
final class InventedCurves {
  /** What is wrong with a unit. */
  enum Fault {
    NONE("nothing abnormal"),
    REFERENCE("reference error REF"),
    RESISTOR("range resistor R3"),
    OFFSET("amplifier offset A1"),
    LEAKAGE("leakage to ground output"),
    LOW_SUPPLY("early knee S1"),
    METER("meter gain current meter"),
    LATE_LEAKAGE("leakage to ground output (from 8.341 h from the start on)");

    private final String cause;

    Fault(String cause) {
      this.cause = cause;
    }

    String cause() {
      return cause;
    }
  }

  private static final double SUPPLY_V = 18;
  private static final double SET_V = 2;
  private static final double SMALL_SET_V = 0.2;
  private static final double[] NOMINAL_A = {10e-6, 100e-6, 1e-3, 5e-3};
  private static final double POINT = 1.5e-6;
  private static final double SHARED = 10e-6;

  private final SplittableRandom random;
  private final Fault fault;
  private final double reference;
  private final double[] referenceTempco;
  private final double[] resistor = new double[NOMINAL_A.length];
  private final double[][] resistorTempco = new double[NOMINAL_A.length][];
  private final double offsetV;
  private final double driftVPerK;
  private final double supplyV;
  private final double dropV;
  private double leakageS;
  private final double gain;

  /**
   * A unit.
   *
   * @param fault what is wrong with it
   * @param seed decides its parts
   */
  InventedCurves(Fault fault, long seed) {
    this.fault = fault;
    random = new Seeds(seed).stream("invented curves");
    reference = fault == Fault.REFERENCE ? 260e-6 : within(50e-6);
    referenceTempco = tempco(3e-6);
    for (int i = 0; i < resistor.length; i++) {
      resistor[i] = fault == Fault.RESISTOR && i == 2 ? -900e-6 : within(100e-6);
      resistorTempco[i] = tempco(5e-6);
    }
    offsetV = fault == Fault.OFFSET ? 900e-6 : within(20e-6);
    driftVPerK = within(0.2e-6);
    supplyV = SUPPLY_V * (1 + within(5e-3)) - (fault == Fault.LOW_SUPPLY ? 3 : 0);
    dropV = 0.5 + within(0.2);
    gain = fault == Fault.METER ? 200e-6 : 0;
  }

  private double within(double halfWidth) {
    return halfWidth * (2 * random.nextDouble() - 1);
  }

  /** A coefficient and its curvature, as spread as 11.1 of methods.md has it. */
  private double[] tempco(double halfWidth) {
    double sd = Math.hypot(0.03e-6, halfWidth / 200);
    return new double[] {within(halfWidth), within(Math.sqrt(3) * sd)};
  }

  /** The datasheet of the design. */
  static String datasheet() {
    StringBuilder out =
        new StringBuilder(
            """
            # An invented design.
            datasheet: quill source
            reference temperature: 23 degC
            open-circuit voltage: 18 V
            compliance: {voltage: 12 V, criterion: 0.1 %, relative to: line}
            decision: {rule: simple}
            parts:
              REF: {kind: reference, value: 2 V, tolerance: 50 ppm, tempco: 3 ppm/K}
              A1: {kind: amplifier, offset: 20 uV, drift: 0.2 uV/K, bias: 5 pA, gain: 120 dB}
              Q1: {kind: pass device, type: insulated gate}
              D1: {kind: series drop, voltage: 0.5 V}
              S1: {kind: supply, voltage: 18 V}
            """);
    for (int i = 0; i < NOMINAL_A.length; i++) {
      out.append(
          "  R%s: {kind: resistor, value: %s ohm, tolerance: 100 ppm, tempco: 5 ppm/K}\n"
              .formatted(i + 1, plain(setV(i) / NOMINAL_A[i])));
    }
    out.append("ranges:\n");
    for (int i = 0; i < NOMINAL_A.length; i++) {
      out.append(
          "  %s: {nominal: %s A, made from: {reference: REF, set voltage: %s V, resistor: R%s, amplifier: A1, pass device: Q1, series: [D1], supply: S1}}\n"
              .formatted(name(i), plain(NOMINAL_A[i]), plain(setV(i)), i + 1));
    }
    return out.toString();
  }

  private static String name(int range) {
    return List.of("10uA", "100uA", "1mA", "5mA").get(range);
  }

  private static double setV(int range) {
    return range == 3 ? SMALL_SET_V : SET_V;
  }

  private static String plain(double value) {
    return String.format(Locale.ROOT, "%.9g", value);
  }

  /** The current of one range, A. */
  private double currentA(int range, double v, double degC) {
    double t = degC - 23;
    double held = setV(range) * (1 + reference + curve(referenceTempco, t));
    held += offsetV + driftVPerK * t;
    double ohm = setV(range) / NOMINAL_A[range];
    double full = held / (ohm * (1 + resistor[range] + curve(resistorTempco[range], t)));
    full -= leakageS * v * Math.pow(2, t / 10);
    double most = supplyV - setV(range) - dropV - 0.4;
    double softV = 0.05;
    double most1 = full * Math.max(0, 1 + 0.04 * (most - v));
    // a smooth least of both: what the loop asks for, and what the supply can still drive
    double scale = full * 0.04 * softV;
    double low = Math.min(full, most1);
    return low - scale * Math.log1p(Math.exp(-Math.abs(full - most1) / scale));
  }

  private static double curve(double[] tempco, double t) {
    return tempco[0] * t + tempco[1] * t * t;
  }

  /**
   * Its readings.
   *
   * @param name of the unit
   * @param degC temperatures
   * @return rows of a file that Millrace imports, its head left out
   */
  String rows(String name, double... degC) {
    List<String> rows = new ArrayList<>();
    for (int i = 0; i < NOMINAL_A.length; i++) {
      double common = SHARED * random.nextGaussian();
      leakageS = fault == Fault.LEAKAGE ? 1 / 3e9 : 1 / 5e12;
      for (int k = 0; k < degC.length; k++) {
        // the fourth visit begins 30,000 s after the start
        leakageS = fault == Fault.LATE_LEAKAGE && k >= 3 ? 1 / 3e9 : leakageS;
        for (int p = 0; p < 12; p++) {
          double ohm = 1.5 * p / NOMINAL_A[i];
          double amps = solved(i, ohm, degC[k]);
          double shown = amps * (1 + gain + common) + POINT * NOMINAL_A[i] * random.nextGaussian();
          rows.add(
              "%s,%s,%s,%s,%s,up,%s,%s,%s,%s,%s,%s"
                  .formatted(
                      name,
                      name(i),
                      NOMINAL_A[i],
                      plain(ohm),
                      degC[k],
                      String.format(Locale.ROOT, "%.12e", shown),
                      POINT * NOMINAL_A[i],
                      SHARED,
                      1e-6 * NOMINAL_A[i],
                      name(i),
                      10000 * k + 1000 * i + 5 * p));
        }
      }
    }
    return String.join("\n", rows) + "\n";
  }

  /** The current through a load: V = I R, by bisection. */
  private double solved(int range, double ohm, double degC) {
    double low = 0;
    double high = 2 * NOMINAL_A[range];
    for (int i = 0; i < 80; i++) {
      double middle = (low + high) / 2;
      if (currentA(range, middle * ohm, degC) > middle) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  }

  static String head() {
    return "unit,range,nominal_A,load_ohm,temperature_degC,direction,current_A,u_current_A,"
        + "u_common_relative,u_common_A,common_group,time_s\n";
  }

  Fault fault() {
    return fault;
  }
}
