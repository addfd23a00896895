// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import millrace.planning.LimitForecast;

/** Tells what a board test would take and what it would tell. */
public interface BoardForecaster {
  /**
   * Points of one range behind one another.
   *
   * @param range its name; empty text for what is of no range
   * @param points how many
   * @param seconds how long they take, as preview has it, s
   */
  record Stay(String range, int points, double seconds) {}

  /**
   * How long a sequence takes.
   *
   * @param sequence the text of a sequence file without parts
   * @return in the order of the sequence
   */
  List<Stay> stays(String sequence);

  /**
   * What a test of one board will be able to say, by the reduction and assessment of any run, with
   * a board as it is meant to be.
   *
   * @param sequence the text of a sequence file without parts
   * @param seed of the scatter of its readings
   * @return each limit that the sequence asks for
   */
  List<LimitForecast> limits(String sequence, long seed);
}
