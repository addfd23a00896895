// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.time.Duration;
import java.util.Optional;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.setting.PointSettings;
import millrace.sequence.Plan.PlannedPoint;

/**
 * A point that is being taken.
 *
 * @param number what people call it
 * @param key its key
 * @param kind its kind
 * @param conditions what was asked for
 * @param began when it began, in the run's elapsed time
 */
public record BegunPoint(
    PointNumber number, String key, PointKind kind, PointConditions conditions, Duration began) {

  /** The planned point itself. */
  public static BegunPoint of(PlannedPoint planned, PointKind kind, Duration began) {
    return new BegunPoint(
        PointNumber.of(planned.number()), planned.key(), kind, planned.conditions(), began);
  }

  /** A point that is taken along with a planned one, under a key of its own. */
  public static BegunPoint within(
      PlannedPoint planned,
      String key,
      PointKind kind,
      PointConditions conditions,
      Duration began) {
    return new BegunPoint(PointNumber.within(planned.number()), key, kind, conditions, began);
  }

  /** The point while its readings still come. */
  public Point open(PointSettings settings) {
    return point(PointState.OPEN, "", began, settings);
  }

  /** The point as it is done: flagged if there was trouble. */
  public Point done(Optional<String> trouble, Duration ended, PointSettings settings) {
    PointState state = trouble.isEmpty() ? PointState.COMPLETE : PointState.FLAGGED;
    return point(state, trouble.orElse(""), ended, settings);
  }

  /** The point as skipped. */
  public Point skipped(String why) {
    return point(PointState.SKIPPED, why, began, PointSettings.NONE);
  }

  private Point point(PointState state, String reason, Duration ended, PointSettings settings) {
    return new Point(0, number, key, kind, conditions, state, reason, began, ended, settings);
  }
}
