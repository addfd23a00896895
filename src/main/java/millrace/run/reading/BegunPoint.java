// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Conditions;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;

/**
 * A point that is being taken.
 *
 * @param key its key
 * @param kind its kind
 * @param conditions what was asked for
 * @param began when it began, in the run's elapsed time
 */
public record BegunPoint(String key, PointKind kind, Conditions conditions, Duration began) {

  /** The point while its readings still come. */
  public Point open(Map<String, String> settings) {
    return point(PointState.OPEN, "", began, settings);
  }

  /** The point as it is done: flagged if there was trouble. */
  public Point done(Optional<String> trouble, Duration ended, Map<String, String> settings) {
    PointState state = trouble.isEmpty() ? PointState.COMPLETE : PointState.FLAGGED;
    return point(state, trouble.orElse(""), ended, settings);
  }

  /** The point as it was left out. */
  public Point skipped(String why) {
    return point(PointState.SKIPPED, why, began, Map.of());
  }

  private Point point(
      PointState state, String reason, Duration ended, Map<String, String> settings) {
    return new Point(0, key, kind, conditions, state, reason, began, ended, settings);
  }
}
