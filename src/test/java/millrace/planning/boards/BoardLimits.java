// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.conformity.Judge;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.planning.LimitForecast;

/** Judged results for tests. */
final class BoardLimits {
  private BoardLimits() {}

  static Result result(
      ResultQuantity quantity, ComputationOutcome outcome, Limit limit, DecisionRule rule) {
    return new Result(
        quantity,
        Optional.of("1mA"),
        ResultConditions.NONE,
        outcome,
        Optional.of(Judge.of(outcome, limit, rule)),
        List.of(),
        Optional.empty(),
        "none",
        List.of());
  }

  /** A value with U = 2 u. */
  static ComputationOutcome value(double value, double u) {
    return new ComputationOutcome.Value(
        value,
        Optional.of(
            new ComputationOutcome.Uncertainty(
                u, 2 * u, value - 2 * u, value + 2 * u, 0.9545, 2, OptionalDouble.empty())),
        10);
  }

  static LimitForecast forecast(Result result) {
    return new LimitForecast(result, LimitForecast.Answer.PASS, Optional.empty());
  }
}
