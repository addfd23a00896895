// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import millrace.planning.LimitForecast;

/** Forecasts the time and the results of a board test. */
public interface BoardForecaster {
  /**
   * Consecutive points of one range.
   *
   * @param range the name of the range; empty text for points without a range
   * @param points the number of points
   * @param seconds their time as preview states it, s
   */
  record Stay(String range, int points, double seconds) {}

  /**
   * The time that a sequence takes.
   *
   * @param sequence the text of a sequence file without parts
   * @return in the order of the sequence
   */
  List<Stay> stays(String sequence);

  /**
   * Forecasts the results of a test of one board whose parts are nominal, by the reduction and
   * assessment of any run.
   *
   * @param sequence the text of a sequence file without parts
   * @param seed the seed of the scatter of the readings
   * @return one forecast for each limit that the sequence asks for
   */
  List<LimitForecast> limits(String sequence, long seed);
}
