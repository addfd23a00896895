// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.time.Duration;
import java.util.Map;

/**
 * One combination of swept conditions, as it was carried out.
 *
 * @param id its place in the order in which the run's points were taken; 0 before it is written
 * @param number what people call it
 * @param key its stable name within the run: the same for preview, run, resume and report
 * @param kind what was done there
 * @param conditions what was asked for
 * @param state how it ended
 * @param reason why it is flagged or skipped; empty text otherwise
 * @param started elapsed time of the run when it began, conditions already set
 * @param ended elapsed time of the run when its last reading was in
 * @param settings what was read back from the instruments and matters, by name such as {@code 'dmm1
 *     range'}; values as people write them
 */
public record Point(
    long id,
    PointNumber number,
    String key,
    PointKind kind,
    PointConditions conditions,
    PointState state,
    String reason,
    Duration started,
    Duration ended,
    Map<String, String> settings) {

  /** Copies the map. */
  public Point {
    settings = Map.copyOf(settings);
  }

  /**
   * The same point under other numbers.
   *
   * @param id its place in the order of taking
   * @param number what people call it
   * @return a point like this one
   */
  public Point numbered(long id, PointNumber number) {
    return new Point(id, number, key, kind, conditions, state, reason, started, ended, settings);
  }
}
