// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import millrace.evidence.PointConditions;
import millrace.sequence.Plan.PlannedPoint;

/** Puts points of a plan into it once more, behind the last of them. */
public final class PointRepetition {
  private static final String AGAIN = " again";

  private PointRepetition() {}

  /**
   * A plan in which some points are done once more.
   *
   * @param plan the plan
   * @param keys of these points; keys that it does not have count for nothing
   * @return a plan with the same keys and those of the added points
   */
  public static Plan to(Plan plan, Set<String> keys) {
    List<PlannedPoint> again = plan.points().stream().filter(p -> keys.contains(p.key())).toList();
    if (again.isEmpty()) {
      return plan;
    }
    List<PlannedPoint> points = new ArrayList<>(plan.points());
    Set<String> taken = new HashSet<>();
    points.forEach(p -> taken.add(p.key()));
    int at = points.indexOf(again.get(again.size() - 1)) + 1;
    int next = 1 + points.stream().mapToInt(PlannedPoint::number).max().orElseThrow();
    for (PlannedPoint p : again) {
      String key = free(p.key() + AGAIN, taken);
      taken.add(key);
      points.add(at++, copy(p, next++, key, onVisit(points, p)));
    }
    return new Plan(plan.title(), plan.compute(), points);
  }

  private static String free(String bare, Set<String> taken) {
    String free = bare;
    for (int n = 2; taken.contains(free); n++) {
      free = bare + " #" + n;
    }
    return free;
  }

  private static PointConditions onVisit(List<PlannedPoint> points, PlannedPoint like) {
    PointConditions bare = like.conditions().onVisit(0);
    long before =
        points.stream()
            .filter(p -> p.task().equals(like.task()))
            .filter(p -> p.conditions().onVisit(0).equals(bare))
            .count();
    return bare.onVisit((int) before);
  }

  private static PlannedPoint copy(
      PlannedPoint p, int number, String key, PointConditions conditions) {
    return new PlannedPoint(
        number, key, p.path(), p.task(), conditions, p.temperature(), p.rules(), p.place());
  }
}
