// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.HashMap;
import java.util.Map;
import java.util.SplittableRandom;

/**
 * Draws of noise, for each range of a unit a stream of its own: two nights that differ in one range
 * have the same draws in the others, so that their comparison shows the difference. One draw;
 * single-threaded.
 */
final class NoiseStreams {
  private static final long SPREAD = 0x9E3779B97F4A7C15L;

  private final long seed;
  private final Map<String, SplittableRandom> byRange = new HashMap<>();

  NoiseStreams(SplittableRandom from) {
    this.seed = from.nextLong();
  }

  /** The stream of a range; of none, a stream of its own. */
  SplittableRandom of(String range) {
    return byRange.computeIfAbsent(range, r -> new SplittableRandom(seed ^ r.hashCode() * SPREAD));
  }
}
