// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.List;
import java.util.Map;
import millrace.planning.LimitForecast;

/** Tells what a sequence would take and what it would tell. */
public interface NightForecaster {
  /**
   * How long a sequence takes, as preview prints it.
   *
   * @param sequence the text of a sequence file without parts
   * @return seconds by part, such as soak
   */
  Map<String, Double> secondsByPart(String sequence);

  /**
   * What a run of it will be able to say, by the reduction and assessment of any run.
   *
   * @param sequence the text of a sequence file without parts
   * @param draws how often the noise of its readings is drawn, odd: of each limit the draw with the
   *     middle U counts
   * @return each limit; what is not decided first
   */
  List<LimitForecast> limits(String sequence, int draws);
}
