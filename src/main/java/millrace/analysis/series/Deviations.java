// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.Arrays;

/**
 * The deviations of SP 1065 from evenly spaced fractional values without gaps. Phases are the
 * running sums of the values less their mean, which second and third differences do not see; sums
 * over m go through running sums, so each averaging time costs one pass. Source: Riley, Handbook of
 * Frequency Stability Analysis, NIST SP 1065 (2008), section 5 (from memory); methods.md 6.4.
 *
 * <p>Immutable and thread-safe. Values have no unit; averaging times are counts m of the spacing.
 */
public final class Deviations {
  private final double[] phase;

  private Deviations(double[] phase) {
    this.phase = phase;
  }

  /**
   * From values.
   *
   * @param values evenly spaced, at least two
   * @return their deviations
   */
  public static Deviations of(double[] values) {
    double mean = Arrays.stream(values).average().orElse(0);
    double[] phase = new double[values.length + 1];
    double lost = 0;
    for (int i = 0; i < values.length; i++) {
      // Kahan's sum: a phase of 1e6 values keeps its digits.
      double add = values[i] - mean - lost;
      double sum = phase[i] + add;
      lost = sum - phase[i] - add;
      phase[i + 1] = sum;
    }
    return new Deviations(phase);
  }

  private double second(int i, int m) {
    return phase[i + 2 * m] - 2 * phase[i + m] + phase[i];
  }

  private double third(int i, int m) {
    return phase[i + 3 * m] - 3 * phase[i + 2 * m] + 3 * phase[i + m] - phase[i];
  }

  private void need(int least, int m) {
    if (m < 1 || phase.length < least) {
      throw new IllegalArgumentException(
          "m is %s with %s values: too few of them".formatted(m, phase.length - 1));
    }
  }

  /**
   * Allan deviation, not overlapping.
   *
   * @param m values per average, at least 1, at most half of them
   * @return the deviation
   */
  public double adev(int m) {
    return allan(m, m);
  }

  /**
   * Overlapping Allan deviation.
   *
   * @param m values per average, at least 1, at most half of them
   * @return the deviation
   */
  public double oadev(int m) {
    return allan(m, 1);
  }

  private double allan(int m, int stride) {
    need(2 * m + 1, m);
    double sum = 0;
    int count = 0;
    for (int i = 0; i + 2 * m < phase.length; i += stride) {
      double d = second(i, m);
      sum += d * d;
      count++;
    }
    return Math.sqrt(sum / (2.0 * count)) / m;
  }

  /**
   * Modified Allan deviation.
   *
   * @param m values per average, at least 1, at most a third of them
   * @return the deviation
   */
  public double mdev(int m) {
    need(3 * m, m);
    double window = 0;
    for (int i = 0; i < m; i++) {
      window += second(i, m);
    }
    double sum = window * window;
    int count = 1;
    for (int i = 0; i + 3 * m < phase.length; i++) {
      window += third(i, m);
      sum += window * window;
      count++;
    }
    return Math.sqrt(sum / (2.0 * count)) / ((double) m * m);
  }

  /**
   * Time deviation: tau over the root of 3 times the modified Allan deviation.
   *
   * @param m values per average, at least 1, at most a third of them
   * @param spacingS tau_0, s, above 0
   * @return the deviation, s
   */
  public double tdev(int m, double spacingS) {
    return m * spacingS * mdev(m) / Math.sqrt(3);
  }

  /**
   * Hadamard deviation, not overlapping: a drift does not enter.
   *
   * @param m values per average, at least 1, at most a third of them
   * @return the deviation
   */
  public double hdev(int m) {
    return hadamard(m, m);
  }

  /**
   * Overlapping Hadamard deviation: a drift does not enter.
   *
   * @param m values per average, at least 1, at most a third of them
   * @return the deviation
   */
  public double ohdev(int m) {
    return hadamard(m, 1);
  }

  private double hadamard(int m, int stride) {
    need(3 * m + 1, m);
    double sum = 0;
    int count = 0;
    for (int i = 0; i + 3 * m < phase.length; i += stride) {
      double d = third(i, m);
      sum += d * d;
      count++;
    }
    return Math.sqrt(sum / (6.0 * count)) / m;
  }

  /**
   * Total deviation, the phases extended by reflection at both ends, without correction of its
   * bias.
   *
   * @param m values per average, at least 1, less than the count of values
   * @return the deviation
   */
  public double totdev(int m) {
    int n = phase.length;
    need(m + 2, m);
    double sum = 0;
    for (int i = 1; i < n - 1; i++) {
      double d = extended(i - m) - 2 * phase[i] + extended(i + m);
      sum += d * d;
    }
    return Math.sqrt(sum / (2.0 * (n - 2))) / m;
  }

  private double extended(int i) {
    int last = phase.length - 1;
    if (i < 0) {
      return 2 * phase[0] - phase[-i];
    }
    return i > last ? 2 * phase[last] - phase[2 * last - i] : phase[i];
  }
}
