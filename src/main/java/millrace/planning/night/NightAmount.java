// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * One amount of a night: of the whole night, or of a range.
 *
 * @param lever the kind of amount
 * @param range the range; empty for the whole night
 */
public record NightAmount(NightLever lever, Optional<String> range) {
  /**
   * The amount in words.
   *
   * @return such as {@code readings a point, 1uA}
   */
  public String text() {
    return lever.text() + range.map(r -> ", " + r).orElse("");
  }

  /** Whether the result for a limit depends on it. */
  boolean affects(LimitForecast limit) {
    return range.isEmpty() || limit.result().range().isEmpty() || isOf(limit);
  }

  private boolean isOf(LimitForecast limit) {
    return range.equals(limit.result().range());
  }
}
