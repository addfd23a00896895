// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.time.Duration;
import millrace.evidence.setting.MeterSettings;
import millrace.evidence.setting.PointSettings;

/**
 * One combination of swept conditions, as carried out.
 *
 * @param id its index in the order of measurement; 0 before it is written
 * @param number its number for people
 * @param key its stable name within the run: the same for preview, run, resume and report
 * @param kind the kind of point
 * @param conditions the requested conditions
 * @param state how it ended
 * @param reason the reason that it is flagged or skipped; empty text otherwise
 * @param started elapsed time of the run at its begin, after the conditions were set
 * @param ended elapsed time of the run at its last reading
 * @param settings settings read back from the meters
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
    PointSettings settings) {

  /**
   * The same point under other numbers.
   *
   * @param id its index in the order of measurement
   * @param number its number for people
   * @return a point like this one
   */
  public Point numbered(long id, PointNumber number) {
    return new Point(id, number, key, kind, conditions, state, reason, started, ended, settings);
  }

  /**
   * The settings that the meter of a signal reported.
   *
   * @param signal current or voltage, with the unit's leads in either position
   * @return its settings; empty settings for any other signal
   */
  public MeterSettings meter(MeasuredSignal signal) {
    return switch (signal.forward()) {
      case CURRENT -> settings.currentMeter();
      case VOLTAGE -> settings.voltmeter();
      default -> MeterSettings.NONE;
    };
  }
}
