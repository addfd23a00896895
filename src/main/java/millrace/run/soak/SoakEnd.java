// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import java.util.Optional;

/**
 * How the soak of one unit ended.
 *
 * @param text what happened, for the logbook
 * @param how what follows for the points of this stay
 */
public record SoakEnd(String text, How how) {

  /** What the end of a soak means. */
  public enum How {
    /** The unit is at temperature. */
    GOOD,
    /** The time limit came first. */
    BOUND_HIT,
    /** The unit gives no current any more. */
    GONE,
    /** Its readings are not plausible. */
    DOUBTFUL
  }

  static SoakEnd good(String text) {
    return new SoakEnd(text, How.GOOD);
  }

  static SoakEnd boundHit(String text) {
    return new SoakEnd(text, How.BOUND_HIT);
  }

  static SoakEnd gone(String text) {
    return new SoakEnd(text, How.GONE);
  }

  static SoakEnd doubtful(String text) {
    return new SoakEnd(text, How.DOUBTFUL);
  }

  /** Why points of this stay are flagged; empty if they are not. */
  public Optional<String> trouble() {
    return how == How.GOOD ? Optional.empty() : Optional.of(text);
  }
}
