// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.quantity.NumberText;

/**
 * Points of a plan that were not measured, since the earlier points were enough (methods.md 12).
 * The logbook stores it as the reason of each skipped point.
 *
 * @param points number of points, 1 or more
 * @param reasons why, in words, in the order of the plan; not empty
 */
public record EarlyEnd(int points, List<String> reasons) {
  private static final String WORDS = "not measured: ended early because ";

  /** Copies the list, checks both. */
  public EarlyEnd {
    reasons = List.copyOf(reasons);
    if (points < 1 || reasons.isEmpty()) {
      throw new IllegalArgumentException(
          points + " points for " + reasons.size() + " reasons; expected 1 or more of both");
    }
  }

  /**
   * The reason text of an omitted point.
   *
   * @param why a clause, such as {@code current error of 1mA is outside its limit}
   * @return the reason of the point
   */
  public static String because(String why) {
    return WORDS + why;
  }

  /**
   * The early end of a run.
   *
   * @param points all of its points
   * @return the early end; empty if no point was omitted for this reason
   */
  public static Optional<EarlyEnd> among(Collection<Point> points) {
    int count = 0;
    Set<String> reasons = new LinkedHashSet<>();
    for (Point point : points) {
      if (point.state() == PointState.SKIPPED && point.reason().startsWith(WORDS)) {
        count++;
        reasons.add(point.reason().substring(WORDS.length()));
      }
    }
    return count == 0
        ? Optional.empty()
        : Optional.of(new EarlyEnd(count, new ArrayList<>(reasons)));
  }

  /**
   * The text for results of these points.
   *
   * @return such as {@code not measured: ended early because ...}
   */
  public String reason() {
    return WORDS + String.join("; ", reasons);
  }

  /**
   * The text for the run.
   *
   * @return such as {@code 12 points not measured: ended early because ...}
   */
  public String inWords() {
    return NumberText.counted(points, "point") + " " + reason();
  }
}
