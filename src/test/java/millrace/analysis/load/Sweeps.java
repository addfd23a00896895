// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import java.util.random.RandomGenerator;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;

/** Load sweeps of sources whose truth is known. */
public final class Sweeps {
  private Sweeps() {}

  /** A source by its current over terminal voltage, A over V, falling. */
  public record Truth(DoubleUnaryOperator currentA, double mostV) {
    /** Where the source and a load meet: I(V) = V/R. */
    public double voltageAt(double ohm) {
      double low = 0;
      double high = mostV;
      for (int i = 0; i < 200 && ohm > 0; i++) {
        double v = (low + high) / 2;
        boolean below = currentA.applyAsDouble(v) * ohm > v;
        low = below ? v : low;
        high = below ? high : v;
      }
      return low;
    }

    /** Where the current has fallen by a ratio below a line. */
    public double fallenBy(double ratio, DoubleUnaryOperator line) {
      double low = 0;
      double high = mostV;
      for (int i = 0; i < 200; i++) {
        double v = (low + high) / 2;
        boolean inside = currentA.applyAsDouble(v) > (1 - ratio) * line.applyAsDouble(v);
        low = inside ? v : low;
        high = inside ? high : v;
      }
      return low;
    }
  }

  /** I0 - G V up to the knee, beyond it a source resistance takes over. */
  static Truth sharp(double i0, double g, double kneeV, double beyondOhm) {
    DoubleUnaryOperator current = v -> i0 - g * v - Math.max(0, v - kneeV) / beyondOhm;
    return new Truth(current, kneeV + i0 * beyondOhm);
  }

  /** The same with the two lines blended over a width. */
  public static Truth rounded(double i0, double g, double kneeV, double beyondOhm, double widthV) {
    DoubleUnaryOperator current =
        v -> i0 - g * v - widthV * Math.log1p(Math.exp((v - kneeV) / widthV)) / beyondOhm;
    return new Truth(current, kneeV + i0 * beyondOhm + 50 * widthV);
  }

  /** I0 - G V, of which nothing is left when the headroom is used up. */
  public static Truth collapsing(double i0, double g, double mostV, double widthV) {
    return new Truth(v -> (i0 - g * v) * -Math.expm1(-(mostV - v) / widthV), mostV);
  }

  /** How a sweep is measured. */
  record Bench(double noiseA, double gainU, double voltU, double driftAPerS, boolean states) {
    static Bench quiet() {
      return new Bench(0, 0, 0, 0, true);
    }

    static Bench noisy(double noiseA) {
      return new Bench(noiseA, 0, 0, 0, true);
    }

    Bench withGain(double u) {
      return new Bench(noiseA, u, voltU, driftAPerS, states);
    }

    Bench withVolt(double u) {
      return new Bench(noiseA, gainU, u, driftAPerS, states);
    }

    Bench withDrift(double perS) {
      return new Bench(noiseA, gainU, voltU, perS, states);
    }

    Bench silent() {
      return new Bench(noiseA, gainU, voltU, driftAPerS, false);
    }
  }

  /** Evenly spaced loads from a short up. */
  public static double[] loads(double mostOhm, int n) {
    double[] all = new double[n];
    for (int i = 0; i < n; i++) {
      all[i] = mostOhm * i / (n - 1);
    }
    return all;
  }

  /** Up and then down again. */
  public static double[] upAndDown(double[] up) {
    double[] all = new double[2 * up.length];
    for (int i = 0; i < up.length; i++) {
      all[i] = up[i];
      all[all.length - 1 - i] = up[i];
    }
    return all;
  }

  /** Measures a source at each load in this order, 10 s apart, bench errors drawn once. */
  static List<LoadPoint> measured(
      Truth truth, double[] loadsOhm, Bench bench, RandomGenerator chance) {
    double gain = bench.gainU() * chance.nextGaussian();
    double volt = bench.voltU() * chance.nextGaussian();
    List<LoadPoint> points = new ArrayList<>();
    for (int k = 0; k < loadsOhm.length; k++) {
      double v = truth.voltageAt(loadsOhm[k]);
      double i = truth.currentA().applyAsDouble(v) + bench.driftAPerS() * 10 * k;
      double seen = i * (1 + gain) + bench.noiseA() * chance.nextGaussian();
      points.add(point("p" + k, v * (1 + volt), seen, loadsOhm[k], bench, 10.0 * k));
    }
    return points;
  }

  private static LoadPoint point(
      String key, double v, double i, double ohm, Bench bench, double timeS) {
    Estimate current = Estimate.exact(i);
    Estimate voltage = Estimate.exact(v);
    if (bench.states()) {
      current =
          current
              .with(ErrorSource.normal("noise", ErrorSource.POINT, key, bench.noiseA(), "A"), 1)
              .with(
                  ErrorSource.normal(
                      "gain", ErrorSource.INSTRUMENT_AND_RANGE, "m", bench.gainU(), "1"),
                  i);
      voltage =
          voltage.with(
              ErrorSource.normal("volt", ErrorSource.INSTRUMENT_AND_RANGE, "v", bench.voltU(), "1"),
              v);
    }
    return new LoadPoint(key, voltage, current, OptionalDouble.of(ohm), timeS, false, false);
  }
}
