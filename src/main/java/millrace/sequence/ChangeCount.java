// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import millrace.sequence.Plan.PlannedPoint;

/**
 * How often a plan changes temperature, unit and range.
 *
 * @param temperatures moves of the chamber
 * @param slots changes from unit to unit
 * @param ranges changes of range
 * @param leastRanges the fewest changes of range that do the same at each temperature: every range
 *     once for all units, and the next temperature begun in the range that the last one ended in
 */
public record ChangeCount(int temperatures, int slots, int ranges, int leastRanges) {

  /**
   * Counts.
   *
   * @param plan the plan
   * @return what it changes from point to point
   */
  public static ChangeCount of(Plan plan) {
    return new ChangeCount(
        Math.max(0, plan.stays().size() - 1),
        changes(plan.points(), p -> p.conditions().slot()),
        changes(plan.points(), p -> p.conditions().range()),
        leastRanges(plan.points()));
  }

  /** Points without a unit or a range count as no change. */
  private static int changes(
      List<PlannedPoint> points, Function<PlannedPoint, Optional<String>> what) {
    List<String> visited = points.stream().flatMap(p -> what.apply(p).stream()).toList();
    int changes = 0;
    for (int i = 1; i < visited.size(); i++) {
      changes += visited.get(i).equals(visited.get(i - 1)) ? 0 : 1;
    }
    return changes;
  }

  private static int leastRanges(List<PlannedPoint> points) {
    int least = 0;
    int visit = -1;
    Set<String> here = new HashSet<>();
    Set<String> before = new HashSet<>();
    for (PlannedPoint p : points) {
      int now = p.temperature().map(Plan.TemperatureRule::visit).orElse(-1);
      if (now != visit) {
        least += needed(here, before);
        before = here;
        here = new HashSet<>();
        visit = now;
      }
      p.conditions().range().ifPresent(here::add);
    }
    return least + needed(here, before);
  }

  /**
   * One change fewer if the first range is that of the stay before, or if there is no stay before.
   */
  private static int needed(Set<String> here, Set<String> before) {
    boolean free = before.isEmpty() || here.stream().anyMatch(before::contains);
    return Math.max(0, here.size() - (free ? 1 : 0));
  }
}
