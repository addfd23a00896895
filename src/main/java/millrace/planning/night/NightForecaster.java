// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.List;
import java.util.Map;
import millrace.planning.LimitForecast;

/** Forecasts the time and the results of a sequence. */
public interface NightForecaster {
  /** Draws of the noise for what is stated of a night. */
  int DRAWS = 3;

  /**
   * Draws for a night and a sequence that it is compared with: the middle of three moves with a few
   * readings more or less by more than the nights differ.
   */
  int DRAWS_TO_COMPARE = 9;

  /**
   * The time of a sequence, as preview states it.
   *
   * @param sequence the text of a sequence file without parts
   * @return seconds by part, such as soak
   */
  Map<String, Double> secondsByPart(String sequence);

  /**
   * The results of a run of it, by the reduction and assessment of any run.
   *
   * @param sequence the text of a sequence file without parts
   * @param draws the number of draws of the noise, odd: for each limit the draw with the middle U
   *     counts
   * @return one forecast for each limit; undecided limits first
   */
  List<LimitForecast> limits(String sequence, int draws);
}
