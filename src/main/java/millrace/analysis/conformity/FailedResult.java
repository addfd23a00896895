// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Result;

/**
 * A failed result with its excess.
 *
 * @param result the result, judged fail or conditional fail
 * @param beyond the distance of its value beyond the limit, in the unit of the result, 0 or more; 0
 *     where only the guard band failed it
 */
public record FailedResult(Result result, double beyond) {

  /**
   * Selects the failed results.
   *
   * @param results of one unit
   * @return the failed results, the largest excess first, in units of the limit's width
   */
  public static List<FailedResult> among(List<Result> results) {
    return results.stream()
        .map(FailedResult::of)
        .flatMap(Optional::stream)
        .sorted((a, b) -> Double.compare(b.relative(), a.relative()))
        .toList();
  }

  private static Optional<FailedResult> of(Result result) {
    return result
        .judgement()
        .filter(
            j -> j.conformity() == Conformity.FAIL || j.conformity() == Conformity.CONDITIONAL_FAIL)
        .map(j -> new FailedResult(result, beyond(result, j.limit())));
  }

  private static double beyond(Result result, Limit limit) {
    OptionalDouble value = value(result.outcome());
    if (value.isEmpty()) {
      return 0;
    }
    double above = value.getAsDouble() - limit.upper().orElse(Double.POSITIVE_INFINITY);
    double below = limit.lower().orElse(Double.NEGATIVE_INFINITY) - value.getAsDouble();
    return Math.max(0, Math.max(above, below));
  }

  private static OptionalDouble value(ComputationOutcome outcome) {
    if (outcome instanceof ComputationOutcome.Value v) {
      return OptionalDouble.of(v.value());
    }
    return outcome instanceof ComputationOutcome.Bound b
        ? OptionalDouble.of(b.value())
        : OptionalDouble.empty();
  }

  private double relative() {
    Limit limit = result.judgement().map(Judgement::limit).orElseThrow();
    double width =
        limit.twoSided()
            ? limit.upper().getAsDouble() - limit.lower().getAsDouble()
            : Math.abs(limit.upper().orElse(limit.lower().orElse(1)));
    return width > 0 ? beyond / width : beyond;
  }
}
