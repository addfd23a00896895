// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.time.Duration;
import millrace.evidence.setting.MeterSettings;
import millrace.evidence.setting.PointSettings;

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
 * @param settings what was read back from the meters
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
   * @param id its place in the order of taking
   * @param number what people call it
   * @return a point like this one
   */
  public Point numbered(long id, PointNumber number) {
    return new Point(id, number, key, kind, conditions, state, reason, started, ended, settings);
  }

  /**
   * What the meter of a signal said of how it was set.
   *
   * @param signal current or voltage, with the unit's leads either way
   * @return its settings; those of a meter that says nothing for any other signal
   */
  public MeterSettings meter(MeasuredSignal signal) {
    return switch (signal.forward()) {
      case CURRENT -> settings.currentMeter();
      case VOLTAGE -> settings.voltmeter();
      default -> MeterSettings.NONE;
    };
  }
}
