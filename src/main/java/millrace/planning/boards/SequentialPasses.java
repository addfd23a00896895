// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.conformity.SequentialRatioTest;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule.Risks;
import millrace.evidence.Limit;
import millrace.planning.LimitForecast;

/**
 * How few passes a sequential test gets by with on average (methods.md 12; Wald 1947): between a
 * board as it is meant to be and one at its nearer limit, by what scatters from pass to pass.
 * Stateless.
 */
final class SequentialPasses {
  private SequentialPasses() {}

  /** The limit that needs most; empty where none is measured again. */
  static Optional<BoardPlan.FewestPasses> of(
      BoardRisks.Computed computed, SettledLimits settled, Risks stated) {
    List<LimitForecast> whole = computed.whole().get(0);
    return computed.first().get(0).stream()
        .filter(l -> settled.isLookedAtAgain(l.result()))
        .flatMap(first -> passes(first, whole, stated).stream())
        .max(Comparator.comparingDouble(BoardPlan.FewestPasses::passes));
  }

  private static Optional<BoardPlan.FewestPasses> passes(
      LimitForecast first, List<LimitForecast> whole, Risks stated) {
    Optional<LimitForecast> twice =
        whole.stream().filter(l -> l.key().equals(first.key())).findFirst();
    Optional<Double> once = standard(first);
    Optional<Double> then = twice.flatMap(SequentialPasses::standard);
    if (once.isEmpty() || then.isEmpty() || once.get() <= then.get()) {
      return Optional.empty();
    }
    // u^2 = s^2 + scatter^2/passes, s what no pass makes smaller
    double scatter = Math.sqrt(2 * (once.get() * once.get() - then.get() * then.get()));
    double expected = ((ComputationOutcome.Value) first.result().outcome()).value();
    Limit limit = first.result().judgement().orElseThrow().limit();
    double distance = limit.distanceInside(expected);
    if (!(distance > 0)) {
      return Optional.empty();
    }
    SequentialRatioTest test =
        new SequentialRatioTest(stated.producer() / whole.size(), stated.consumer());
    return Optional.of(
        new BoardPlan.FewestPasses(
            first, test.expectedCount(new SequentialRatioTest.Means(0, distance, scatter))));
  }

  private static Optional<Double> standard(LimitForecast limit) {
    return limit.result().outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty().map(ComputationOutcome.Uncertainty::standard)
        : Optional.empty();
  }
}
