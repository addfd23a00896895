// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.Arrays;
import java.util.stream.IntStream;

/** Readings of one current over time, sorted by it. Immutable and thread-safe. */
public final class TimeSeries {
  private final double[] timeS;
  private final double[] currentA;
  private final boolean sorted;

  private TimeSeries(double[] timeS, double[] currentA, boolean sorted) {
    this.timeS = timeS;
    this.currentA = currentA;
    this.sorted = sorted;
  }

  /**
   * A record of arrays that nobody changes any more.
   *
   * @param timeS when each reading was taken, s, finite; out of order is put in order
   * @param currentA the readings, A, finite, as many
   * @return the record; both arrays are part of it, since long records exist once in memory
   * @throws IllegalArgumentException if lengths differ or a number is not finite
   */
  public static TimeSeries of(double[] timeS, double[] currentA) {
    if (timeS.length != currentA.length) {
      throw new IllegalArgumentException(
          "%s times for %s readings".formatted(timeS.length, currentA.length));
    }
    boolean inOrder = true;
    for (int i = 0; i < timeS.length; i++) {
      if (!Double.isFinite(timeS[i]) || !Double.isFinite(currentA[i])) {
        throw new IllegalArgumentException(
            "reading %s is %s A at %s s; expected finite numbers"
                .formatted(i, currentA[i], timeS[i]));
      }
      inOrder &= i == 0 || timeS[i] >= timeS[i - 1];
    }
    return inOrder ? new TimeSeries(timeS, currentA, true) : inOrder(timeS, currentA);
  }

  private static TimeSeries inOrder(double[] timeS, double[] currentA) {
    int[] order =
        IntStream.range(0, timeS.length)
            .boxed()
            .sorted((a, b) -> Double.compare(timeS[a], timeS[b]))
            .mapToInt(Integer::intValue)
            .toArray();
    return new TimeSeries(
        Arrays.stream(order).mapToDouble(i -> timeS[i]).toArray(),
        Arrays.stream(order).mapToDouble(i -> currentA[i]).toArray(),
        false);
  }

  /**
   * How many readings there are.
   *
   * @return 0 or more
   */
  public int size() {
    return timeS.length;
  }

  /**
   * When a reading was taken.
   *
   * @param i which, from 0
   * @return s
   */
  public double timeS(int i) {
    return timeS[i];
  }

  /**
   * A reading.
   *
   * @param i which, from 0
   * @return A
   */
  public double currentA(int i) {
    return currentA[i];
  }

  /** Whether times came in order. */
  boolean cameInOrder() {
    return sorted;
  }

  /**
   * From the first reading to the last.
   *
   * @return s, 0 or more
   */
  public double durationS() {
    return timeS.length == 0 ? 0 : timeS[timeS.length - 1] - timeS[0];
  }

  /**
   * The median time from reading to reading.
   *
   * @return s, 0 or more
   */
  public double intervalS() {
    if (timeS.length < 2) {
      return 0;
    }
    double[] steps = new double[timeS.length - 1];
    for (int i = 0; i < steps.length; i++) {
      steps[i] = timeS[i + 1] - timeS[i];
    }
    Arrays.sort(steps);
    return steps[steps.length / 2];
  }

  /** The readings in ppm of a base, about their first one. */
  double[] ppmOf(double baseA) {
    double[] ppm = new double[currentA.length];
    for (int i = 0; i < ppm.length; i++) {
      ppm[i] = ppm(i, baseA);
    }
    return ppm;
  }

  /** A reading in ppm of a base, about the first one. */
  double ppm(int i, double baseA) {
    return (currentA[i] - currentA[0]) / Math.abs(baseA) * 1e6;
  }

  double[] times() {
    return timeS.clone();
  }
}
