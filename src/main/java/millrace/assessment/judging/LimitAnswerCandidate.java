// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.Collection;
import java.util.Comparator;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.conformity.Judge;
import millrace.datasheet.Datasheet;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;

/**
 * A result that answers a limit at one condition of its box.
 *
 * @param result the result, not judged
 * @param covers the basis of the result
 * @param temperatureDegC temperature of the condition, degC; empty if no temperature is known
 */
record LimitAnswerCandidate(
    Result result, BoxJudgementBasis covers, OptionalDouble temperatureDegC) {

  static LimitAnswerCandidate measured(Result result) {
    return measured(result, result.at().number(ResultConditionKey.TEMPERATURE_DEGC));
  }

  static LimitAnswerCandidate measured(Result result, OptionalDouble degC) {
    return new LimitAnswerCandidate(result, BoxJudgementBasis.MEASURED, degC);
  }

  /** The worst of some: by outcome, then by distance over u (methods.md 7.1). */
  static Optional<LimitAnswerCandidate> worst(
      Collection<LimitAnswerCandidate> candidates, RangeLimit promise, Datasheet sheet) {
    Limit limit = promise.limit();
    return candidates.stream()
        .max(
            Comparator.<LimitAnswerCandidate>comparingInt(c -> weight(c, limit, sheet.decision()))
                .thenComparingDouble(c -> -c.distance(limit)));
  }

  private static int weight(LimitAnswerCandidate c, Limit limit, DecisionRule rule) {
    return Judge.of(c.result.outcome(), limit, rule).conformity().weight();
  }

  /** (limit - value)/u for the nearer side; a bound has none. */
  private double distance(Limit limit) {
    if (!(result.outcome() instanceof ComputationOutcome.Value v)) {
      return Double.POSITIVE_INFINITY;
    }
    double room = Judge.room(v.value(), limit);
    double u = v.uncertainty().map(ComputationOutcome.Uncertainty::standard).orElse(0.0);
    return u > 0 ? room / u : room * Double.MAX_VALUE;
  }

  /** The result judged over the box of the limit. */
  Result judged(RangeLimit promise, Datasheet sheet) {
    return result.with(
        Judge.of(result.outcome(), promise.limit(), sheet.decision()).over(promise.box(), covers));
  }
}
