// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;

/** Groups the points of a plan by their stay. */
final class PlannedStays {
  private static final int VISITS_TO_REFERENCE = 3;

  /** The largest distance of a setpoint from T_ref at which it still counts as T_ref, K. */
  private static final double WITHIN_K = 0.5;

  private PlannedStays() {}

  /** The remaining stays by the number of their visit, in order. */
  static Map<Integer, List<PlannedPoint>> toGo(Plan plan, Set<String> toGo) {
    Map<Integer, List<PlannedPoint>> stays = new LinkedHashMap<>();
    Set<Integer> begun = new LinkedHashSet<>();
    for (PlannedPoint p : plan.points()) {
      if (p.temperature().isPresent()) {
        int visit = p.temperature().get().visit();
        if (toGo.contains(p.key())) {
          stays.computeIfAbsent(visit, v -> new ArrayList<>()).add(p);
        } else {
          begun.add(visit);
        }
      }
    }
    stays.keySet().removeAll(begun);
    return stays;
  }

  /** The first three visits to T_ref. */
  static Set<Integer> firstAtReference(Plan plan, Datasheet datasheet) {
    Set<Integer> visits = new LinkedHashSet<>();
    for (PlannedPoint p : plan.points()) {
      boolean there =
          p.temperature().isPresent()
              && Math.abs(
                      p.conditions().temperatureDegC().orElseThrow()
                          - datasheet.referenceTemperatureDegC())
                  <= WITHIN_K;
      if (there && visits.size() < VISITS_TO_REFERENCE) {
        visits.add(p.temperature().get().visit());
      }
    }
    return visits;
  }
}
