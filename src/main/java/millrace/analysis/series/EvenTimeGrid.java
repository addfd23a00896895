// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.Arrays;
import java.util.stream.IntStream;

/**
 * A record on an even grid with gaps where readings are missing: running sums of values and counts,
 * so that an average over any m slots costs two differences. An average counts where at least half
 * of its slots were read; a term of the Allan variance where both its averages count (gaps are
 * skipped, not filled: NIST SP 1065 (2008), section on gaps, from memory; methods.md 6.4).
 */
final class EvenTimeGrid {
  private final double[] sums;
  private final int[] counts;

  private EvenTimeGrid(double[] sums, int[] counts) {
    this.sums = sums;
    this.counts = counts;
  }

  /** Puts a record on a grid of its median interval; values in ppm of the base. */
  static EvenTimeGrid of(TimeSeries series, double baseA) {
    double interval = series.intervalS();
    long length = 1;
    for (int i = 1; i < series.size(); i++) {
      length += slots(series, i, interval);
    }
    return new EvenTimeGrid(new double[(int) length + 1], new int[(int) length + 1])
        .filled(series, baseA, interval);
  }

  /** By how many slots a reading lies behind the one before. */
  private static long slots(TimeSeries series, int i, double interval) {
    double steps = (series.timeS(i) - series.timeS(i - 1)) / interval;
    return Math.max(1, Math.round(steps));
  }

  /** Kahan's running sums about the mean, so that long records keep their digits. */
  private EvenTimeGrid filled(TimeSeries series, double baseA, double interval) {
    int n = series.size();
    double mean = IntStream.range(0, n).mapToDouble(i -> series.ppm(i, baseA)).average().orElse(0);
    double lost = 0;
    int reading = 0;
    long next = 0;
    for (int slot = 0; slot < sums.length - 1; slot++) {
      boolean read = next == slot;
      double add = (read ? series.ppm(reading, baseA) - mean : 0) - lost;
      double sum = sums[slot] + add;
      lost = sum - sums[slot] - add;
      sums[slot + 1] = sum;
      counts[slot + 1] = counts[slot] + (read ? 1 : 0);
      if (read && reading < n - 1) {
        reading++;
        next += slots(series, reading, interval);
      }
    }
    return this;
  }

  int slots() {
    return sums.length - 1;
  }

  int missing() {
    return slots() - counts[slots()];
  }

  private boolean counts(int from, int m) {
    return 2 * (counts[from + m] - counts[from]) >= m;
  }

  private double average(int from, int m) {
    return (sums[from + m] - sums[from]) / (counts[from + m] - counts[from]);
  }

  /** The overlapping Allan variance over m slots. */
  Variance allan(int m) {
    double sum = 0;
    int terms = 0;
    int last = slots() - 2 * m;
    for (int i = 0; i <= last; i++) {
      if (counts(i, m) && counts(i + m, m)) {
        double d = average(i + m, m) - average(i, m);
        sum += d * d;
        terms++;
      }
    }
    return new Variance(terms > 0 ? sum / (2.0 * terms) : 0, terms);
  }

  /** A variance and how many terms it is the mean of. */
  record Variance(double ppm2, int terms) {}

  /** Averages side by side, those that count. */
  double[] averages(int m) {
    double[] all = new double[slots() / m];
    int n = 0;
    for (int i = 0; i + m <= slots(); i += m) {
      if (counts(i, m)) {
        all[n++] = average(i, m);
      }
    }
    return n == all.length ? all : Arrays.copyOf(all, n);
  }
}
