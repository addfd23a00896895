// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;

/**
 * Numbers the stays at a temperature that a plan made: a stay is one visit to one set temperature.
 */
public final class TemperatureStayNumbers {
  private final Map<String, Integer> numbers = new HashMap<>();

  /**
   * Numbers the stays in the order of measurement.
   *
   * @param tallies the points of a run
   */
  public TemperatureStayNumbers(List<PointReadingTally> tallies) {
    for (PointReadingTally tally : tallies) {
      if (tally.point().conditions().temperatureDegC().isPresent()) {
        numbers.putIfAbsent(key(tally.point()), numbers.size());
      }
    }
  }

  private static String key(Point point) {
    PointConditions c = point.conditions();
    return c.temperatureDegC() + " visit " + c.visit();
  }

  /** The number of the stay that a point belongs to, from 0. */
  public int of(Point point) {
    return numbers.getOrDefault(key(point), 0);
  }
}
