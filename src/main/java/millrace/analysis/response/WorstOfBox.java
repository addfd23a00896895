package millrace.analysis.response;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Limit;

/**
 * The worst condition of a limit's box: the one of least (limit - prediction)/u, on a grid of at
 * least 15 x 13 conditions, corners and measured conditions too, refined (measurement.md 7.1).
 * Pure; thread-safe.
 *
 * @param condition where; empty where something is missing
 * @param prediction the value there; empty where something is missing
 * @param wanting what would have to be measured before the box can be judged, such as {@code
 *     measure at 50 degC}; empty where there is a value
 */
public record WorstOfBox(
    Optional<Condition> condition, Optional<Prediction.Value> prediction, List<String> wanting) {

  /** Copies the list. */
  public WorstOfBox {
    wanting = List.copyOf(wanting);
  }

  /**
   * Searches.
   *
   * @param response what the range does
   * @param limitPpm the limit on the error, ppm of I_N
   * @param box where it is promised
   * @return the worst condition, or what would have to be measured
   */
  public static WorstOfBox of(RangeResponse response, Limit limitPpm, Box box) {
    throw new UnsupportedOperationException();
  }
}
