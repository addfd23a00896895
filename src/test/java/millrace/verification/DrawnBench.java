// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.random.RandomGenerator;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.Sweeps.Truth;
import millrace.analysis.reduction.MeterErrors;
import millrace.analysis.reduction.MeterErrors.MeterRange;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingAccumulator;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.AccuracyStatement;

/**
 * A bench whose errors were drawn once from what its accuracy statement says, and which then takes
 * readings: everything from raw readings to estimates goes through the analysis's own reduction.
 */
final class DrawnBench {
  private static final int READINGS = 10;
  private static final double GAIN = 20e-6;
  private static final double OFFSET = 5e-6;
  private static final double TRANSFER = 0.5e-6;
  private static final double FULL_SCALE_A = 1e-3;
  private static final double LOAD_SHARE = 1e-4;
  private static final double THERMOMETER_K = 0.1;
  private static final double THERMOMETER_SCALE = 2e-3;
  private static final MeterRange RANGE = new MeterRange("meter", FULL_SCALE_A, "A");

  private static final MeterErrors STATEMENT =
      new MeterErrors(
          new AccuracyStatement(
              Optional.empty(),
              GAIN,
              OFFSET,
              0,
              Optional.empty(),
              Optional.of(TRANSFER),
              Optional.empty(),
              0,
              Optional.empty(),
              0,
              0,
              Optional.empty(),
              0));

  private final RandomGenerator chance;
  private final double noiseA;
  private final double gain;
  private final double offsetA;
  private final double load;
  private final double thermometerK;
  private final double thermometerScale;

  DrawnBench(RandomGenerator chance, double noiseA) {
    this.chance = chance;
    this.noiseA = noiseA;
    this.gain = rectangular(GAIN);
    this.offsetA = rectangular(OFFSET * FULL_SCALE_A);
    this.load = rectangular(LOAD_SHARE);
    this.thermometerK = rectangular(THERMOMETER_K);
    this.thermometerScale = rectangular(THERMOMETER_SCALE);
  }

  private double rectangular(double half) {
    return half * (2 * chance.nextDouble() - 1);
  }

  /** The readings of one point, its share of the meter's linearity redrawn. */
  private ReadingStatistics readings(double currentA) {
    double shown = currentA * (1 + gain) + offsetA + rectangular(TRANSFER * FULL_SCALE_A);
    double[] readings = new double[READINGS];
    Arrays.setAll(readings, i -> shown + noiseA * chance.nextGaussian());
    return ReadingAccumulator.statisticsOf(readings);
  }

  private static Estimate reduced(PooledNoise noise, ReadingStatistics point, String key) {
    return STATEMENT.applied(noise.mean(point, key, "A"), RANGE, key, Optional.empty());
  }

  /** A load sweep; the terminal voltage is the current times what the load box says. */
  List<LoadPoint> sweep(Truth truth, double... nominalOhm) {
    return sweep("p", truth, nominalOhm);
  }

  /** The same with a name that tells its points from those of other sweeps. */
  List<LoadPoint> sweep(String name, Truth truth, double... nominalOhm) {
    List<ReadingStatistics> all = new ArrayList<>();
    for (double ohm : nominalOhm) {
      double v = truth.voltageAt(ohm * (1 + load));
      all.add(readings(truth.currentA().applyAsDouble(v)));
    }
    PooledNoise noise = PooledNoise.of("noise", all, 0);
    ErrorSource box = ErrorSource.within("load", ErrorSource.RUN, "box", LOAD_SHARE, "1");
    List<LoadPoint> points = new ArrayList<>();
    for (int k = 0; k < nominalOhm.length; k++) {
      String key = name + k;
      Estimate current = reduced(noise, all.get(k), key);
      Estimate ohm = Estimate.exact(nominalOhm[k]).with(box, nominalOhm[k]);
      points.add(
          new LoadPoint(
              key,
              current.times(ohm),
              current,
              OptionalDouble.of(nominalOhm[k]),
              30.0 * k,
              false,
              false));
    }
    return points;
  }

  /** A lap of stays an hour apart, the current given as a function of the true temperature. */
  List<TemperaturePoint> lap(
      java.util.function.DoubleUnaryOperator currentA, double... temperaturesDegC) {
    List<ReadingStatistics> all = new ArrayList<>();
    for (double t : temperaturesDegC) {
      all.add(readings(currentA.applyAsDouble(t)));
    }
    PooledNoise noise = PooledNoise.of("noise", all, 0);
    List<TemperaturePoint> points = new ArrayList<>();
    for (int k = 0; k < temperaturesDegC.length; k++) {
      Estimate current = reduced(noise, all.get(k), "t" + k);
      points.add(
          new TemperaturePoint(
              k, temperaturesDegC[k], thermometer(temperaturesDegC[k]), current, 3600.0 * k));
    }
    return points;
  }

  /** What the thermometer at the unit shows, with its offset and scale. */
  Estimate thermometer(double trueDegC) {
    double away = trueDegC - 23;
    double shown = trueDegC + thermometerK + thermometerScale * away;
    return Estimate.exact(shown)
        .with(ErrorSource.within("thermometer", ErrorSource.RUN, "offset", THERMOMETER_K, "K"), 1)
        .with(
            ErrorSource.within("thermometer scale", ErrorSource.RUN, "s", THERMOMETER_SCALE, "1"),
            away);
  }
}
