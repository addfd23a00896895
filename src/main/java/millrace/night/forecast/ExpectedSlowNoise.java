// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Slow noise as of {@link millrace.sim.truth.SimulatedFlickerNoise}, fixed in time: two nights with
 * the same draw that differ by a few readings meet the same slow noise, so that their comparison
 * shows the difference. One draw; single-threaded.
 */
final class ExpectedSlowNoise {
  private static final double[] TIMES_S = {1, 10, 100, 1000, 10_000};

  private final double rms;
  private final List<Part> parts = new ArrayList<>();

  /**
   * Creates a draw.
   *
   * @param rmsPerDecade relative, root mean square in each decade of frequency
   * @param random the source of random numbers
   */
  ExpectedSlowNoise(double rmsPerDecade, SplittableRandom random) {
    this.rms = rmsPerDecade;
    for (double timeS : TIMES_S) {
      parts.add(new Part(timeS, random.split(), random.split()));
    }
  }

  /** The noise at a time that does not run backwards, s, 0 or more; relative. */
  double at(double nowS) {
    double sum = 0;
    for (Part part : parts) {
      sum += part.at(nowS);
    }
    return rms * sum;
  }

  /**
   * A first-order noise of variance 1: drawn at fixed times, and in between given the last value
   * and the next fixed one. That is exact: nothing earlier or later tells more of it.
   */
  private static final class Part {
    private static final double FIXED_PER_TIME = 4;

    private final double timeS;
    private final double stepS;
    private final SplittableRandom fixed;
    private final SplittableRandom between;
    private double atS;
    private double value;
    private long next = 1;
    private double nextValue;

    Part(double timeS, SplittableRandom fixed, SplittableRandom between) {
      this.timeS = timeS;
      this.stepS = timeS / FIXED_PER_TIME;
      this.fixed = fixed;
      this.between = between;
      this.value = fixed.nextGaussian();
      this.nextValue = following(value);
    }

    private double following(double last) {
      double keep = keep(stepS);
      return keep * last + Math.sqrt(1 - keep * keep) * fixed.nextGaussian();
    }

    private double keep(double afterS) {
      return Math.exp(-afterS / timeS);
    }

    double at(double nowS) {
      while (next * stepS <= nowS) {
        atS = next * stepS;
        value = nextValue;
        next++;
        nextValue = following(value);
      }
      if (nowS > atS) {
        double first = keep(nowS - atS);
        double second = keep(next * stepS - nowS);
        double free = 1 - first * first * second * second;
        double sure = first * (1 - second * second) * value;
        double mean = (sure + second * (1 - first * first) * nextValue) / free;
        double variance = (1 - first * first) * (1 - second * second) / free;
        value = mean + Math.sqrt(Math.max(0, variance)) * between.nextGaussian();
        atS = nowS;
      }
      return value;
    }
  }
}
