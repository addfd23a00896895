// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.time.Duration;
import java.util.SplittableRandom;
import millrace.quantity.TimeSpanSeconds;
import millrace.sim.truth.SimulatedFlickerNoise;
import millrace.sim.truth.SimulatedUnitSpec;

/**
 * The noise of the current that is expected of a unit: white noise as of an earlier unit where
 * there is one, else of a usual one; slow noise as of a usual one. One draw; single-threaded.
 */
final class ExpectedUnitNoise {
  private final SimulatedUnitSpec.Noise usual;
  private final Earlier earlier;
  private final SplittableRandom random;
  private final SimulatedFlickerNoise slow;

  ExpectedUnitNoise(SimulatedUnitSpec.Noise usual, Earlier earlier, SplittableRandom random) {
    this.usual = usual;
    this.earlier = earlier;
    this.random = random;
    this.slow = new SimulatedFlickerNoise(usual.flicker(), random.split());
  }

  /**
   * By how much a reading is off.
   *
   * @param range which range of the unit gives the current
   * @param seconds how long is read, s, above 0
   * @param now does not run backwards
   * @return a ratio of the current
   */
  double over(String range, double seconds, Duration now) {
    double white = earlier.whiteOf(range).orElse(usual.white());
    return slow.at(TimeSpanSeconds.seconds(now))
        + white / Math.sqrt(seconds) * random.nextGaussian();
  }
}
