// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.Optional;
import millrace.time.Seeds;

/**
 * Draws true values, each from a random stream of its own name, so that a part has the same value
 * whatever else is drawn. Immutable.
 *
 * @param seeds the seeds; empty for nominal values
 */
public record TrueValueDraw(Optional<Seeds> seeds) {
  /** Draws nothing: every value is nominal. */
  static final TrueValueDraw NOMINAL = new TrueValueDraw(Optional.empty());

  /**
   * Draws with some seeds.
   *
   * @param seeds what is drawn with
   */
  public TrueValueDraw(Seeds seeds) {
    this(Optional.of(seeds));
  }

  /** From a rectangle about 0, of this half-width. */
  double within(String what, double halfWidth) {
    return seeds.map(s -> halfWidth * s.stream(what).nextDouble(-1, 1)).orElse(0.0);
  }

  /** A factor between 1 and the most. */
  double upTo(String what, double most) {
    return seeds.map(s -> Math.exp(s.stream(what).nextDouble() * Math.log(most))).orElse(1.0);
  }
}
