// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;

/**
 * Takes each judged result of a run drawn several times from the draw with the middle U: a U from
 * few degrees of freedom varies from draw to draw, the middle one varies less. Each is a whole
 * result of one draw, with its budget. Stateless.
 */
final class MiddleResults {
  private MiddleResults() {}

  /**
   * Selects the results with the middle U.
   *
   * @param draws the results of each draw; not empty
   * @return those that are judged, in the order of the first draw
   */
  static List<Result> of(List<List<Result>> draws) {
    Map<List<Object>, List<Result>> alike = new LinkedHashMap<>();
    for (List<Result> draw : draws) {
      draw.stream()
          .filter(r -> r.judgement().isPresent())
          .forEach(r -> alike.computeIfAbsent(limit(r), k -> new ArrayList<>()).add(r));
    }
    return alike.values().stream().map(MiddleResults::middle).toList();
  }

  /** Identifies a limit among those of its datasheet. */
  private static List<Object> limit(Result r) {
    var judgement = r.judgement().orElseThrow();
    return List.of(r.quantity(), r.range(), judgement.limit(), judgement.when());
  }

  private static Result middle(List<Result> drawn) {
    List<Result> rising = new ArrayList<>(drawn);
    rising.sort(Comparator.comparingDouble(MiddleResults::expanded));
    return rising.get(rising.size() / 2);
  }

  /** U; infinite where there is none. */
  private static double expanded(Result r) {
    return r.outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty()
            .map(ComputationOutcome.Uncertainty::expanded)
            .orElse(Double.POSITIVE_INFINITY)
        : Double.POSITIVE_INFINITY;
  }
}
