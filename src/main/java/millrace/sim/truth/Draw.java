// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import millrace.time.Seeds;

/**
 * Draws true values, each from a stream of its own name, so that a part is the same whatever else
 * is drawn and wherever it is used. Immutable.
 */
public record Draw(Seeds seeds) {

  /** From a rectangle about 0, of this half-width. */
  double within(String what, double halfWidth) {
    return halfWidth * seeds.stream(what).nextDouble(-1, 1);
  }

  /** A factor between 1 and the most. */
  double upTo(String what, double most) {
    return Math.exp(seeds.stream(what).nextDouble() * Math.log(most));
  }
}
