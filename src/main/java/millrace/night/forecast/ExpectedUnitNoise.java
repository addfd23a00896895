// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.time.Duration;
import java.util.SplittableRandom;
import millrace.quantity.TimeSpanSeconds;
import millrace.sim.truth.SimulatedUnitSpec;

/**
 * The expected noise of the current of a unit: the white noise of an earlier unit where there is
 * one, else the usual white noise; the usual slow noise. One draw; single-threaded.
 */
final class ExpectedUnitNoise {
  private final SimulatedUnitSpec.Noise usual;
  private final Earlier earlier;
  private final NoiseStreams streams;
  private final ExpectedSlowNoise slow;

  ExpectedUnitNoise(SimulatedUnitSpec.Noise usual, Earlier earlier, SplittableRandom random) {
    this.usual = usual;
    this.earlier = earlier;
    this.streams = new NoiseStreams(random.split());
    this.slow = new ExpectedSlowNoise(usual.flicker(), random.split());
  }

  /**
   * The deviation of a reading.
   *
   * @param range the range of the unit that gives the current
   * @param seconds the reading time, s, above 0
   * @param now the time; it never runs backwards
   * @return a ratio of the current
   */
  double over(String range, double seconds, Duration now) {
    double white = earlier.whiteOf(range).orElse(usual.white());
    return slow.at(TimeSpanSeconds.seconds(now))
        + white / Math.sqrt(seconds) * streams.of(range).nextGaussian();
  }
}
