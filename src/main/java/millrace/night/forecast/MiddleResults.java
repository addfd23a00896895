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
 * Of the same run drawn several times, each judged result from the draw whose U is in the middle: U
 * that rests on few degrees of freedom jumps from draw to draw, and its middle does less. Each is a
 * result of one draw, whole, with its budget. Stateless.
 */
final class MiddleResults {
  private MiddleResults() {}

  /**
   * Results in the middle.
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

  /** What tells a limit from the others of its datasheet. */
  private static List<Object> limit(Result r) {
    var judgement = r.judgement().orElseThrow();
    return List.of(r.quantity(), r.range(), judgement.limit(), judgement.when());
  }

  private static Result middle(List<Result> drawn) {
    List<Result> rising = new ArrayList<>(drawn);
    rising.sort(Comparator.comparingDouble(MiddleResults::expanded));
    return rising.get(rising.size() / 2);
  }

  /** U; larger than any where there is none. */
  private static double expanded(Result r) {
    return r.outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty()
            .map(ComputationOutcome.Uncertainty::expanded)
            .orElse(Double.POSITIVE_INFINITY)
        : Double.POSITIVE_INFINITY;
  }
}
