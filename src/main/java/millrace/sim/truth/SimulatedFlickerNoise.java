// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.SplittableRandom;

/**
 * Slow noise whose power falls as 1/f over five decades: the sum of first-order noises whose time
 * constants are a decade apart, each of the same variance. Exact at any spacing of the times.
 * Guarded by the circuit's lock.
 */
public final class SimulatedFlickerNoise {
  private static final double[] TIMES_S = {1, 10, 100, 1000, 10_000};

  private final double rms;
  private final SplittableRandom random;
  private final double[] state = new double[TIMES_S.length];
  private double atS;

  /**
   * Slow noise.
   *
   * @param rmsPerDecade relative, root mean square in each decade of frequency
   * @param random the source of random numbers
   */
  public SimulatedFlickerNoise(double rmsPerDecade, SplittableRandom random) {
    this.rms = rmsPerDecade;
    this.random = random;
    for (int i = 0; i < state.length; i++) {
      state[i] = rms * random.nextGaussian();
    }
  }

  /** The noise at a time that does not run backwards, relative. */
  public double at(double nowS) {
    double sum = 0;
    for (int i = 0; i < state.length; i++) {
      double keep = Math.exp(-(nowS - atS) / TIMES_S[i]);
      state[i] =
          state[i] * keep + rms * Math.sqrt(Math.max(0, 1 - keep * keep)) * random.nextGaussian();
      sum += state[i];
    }
    atS = nowS;
    return sum;
  }
}
