// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.SplittableRandom;
import millrace.time.Seeds;

/** Simulated records with known truth. */
final class Records {
  static final double NOMINAL_A = 1e-3;

  private Records() {}

  static double[] white(long seed, int n) {
    SplittableRandom random = new Seeds(seed).stream("record");
    double[] values = new double[n];
    for (int i = 0; i < n; i++) {
      values[i] = gaussian(random);
    }
    return values;
  }

  /** Errors that follow one another by r, of unit standard deviation. */
  static double[] alike(long seed, int n, double r) {
    double[] values = white(seed, n);
    for (int i = 1; i < n; i++) {
      values[i] = r * values[i - 1] + Math.sqrt(1 - r * r) * values[i];
    }
    return values;
  }

  static double[] walk(long seed, int n) {
    double[] values = white(seed, n);
    for (int i = 1; i < n; i++) {
      values[i] += values[i - 1];
    }
    return values;
  }

  static double gaussian(SplittableRandom random) {
    double u = 1 - random.nextDouble();
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random.nextDouble());
  }

  /** A current of 1 mA with a drift, and errors in ppm; one reading every so many seconds. */
  static TimeSeries current(double[] errorsPpm, double driftPpmPerH, double everyS) {
    double[] times = new double[errorsPpm.length];
    double[] currents = new double[errorsPpm.length];
    for (int i = 0; i < times.length; i++) {
      times[i] = i * everyS;
      currents[i] = NOMINAL_A * (1 + 1e-6 * (errorsPpm[i] + driftPpmPerH * times[i] / 3600));
    }
    return TimeSeries.of(times, currents);
  }
}
