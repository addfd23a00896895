package millrace.assessment;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import millrace.evidence.Conditions;
import millrace.evidence.PointState;
import millrace.evidence.Signal;

/**
 * Leaves flagged points without current, or with a reversed one, out of a range that gave current
 * at others: something failed in between, and they say nothing of the unit. Where a range never
 * gave any, that is what was measured.
 */
final class Lifeless {
  private static final double NOTHING = 1e-3;

  private Lifeless() {}

  static List<PointTally> without(List<PointTally> measured, List<String> notes) {
    Set<String> alive = new HashSet<>();
    measured.stream().filter(t -> flows(t)).forEach(t -> alive.add(range(t)));
    Map<String, Integer> out = new TreeMap<>();
    List<PointTally> kept = new ArrayList<>();
    for (PointTally t : measured) {
      boolean dead = t.point().state() == PointState.FLAGGED && !flows(t);
      if (dead && alive.contains(range(t))) {
        out.merge(range(t), 1, Integer::sum);
      } else {
        kept.add(t);
      }
    }
    out.forEach(
        (range, count) ->
            notes.add(
                "range %s: %d flagged points without current are left out; it gave current at others"
                    .formatted(range, count)));
    return kept;
  }

  private static String range(PointTally t) {
    return t.point().conditions().range().orElse("");
  }

  private static boolean flows(PointTally t) {
    Conditions c = t.point().conditions();
    double wanted = c.setA().orElse(c.nominalA().orElse(0));
    return wanted == 0 || t.mean(Signal.CURRENT).orElse(wanted) / wanted >= NOTHING;
  }
}
