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
 * The mean number of passes that a sequential test needs (methods.md 12; Wald 1947): it separates a
 * board whose parts are nominal from one at its nearer limit, by the scatter from pass to pass.
 * Stateless.
 */
final class SequentialPasses {
  private SequentialPasses() {}

  /** The limit that needs the most passes; empty where none is measured again. */
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
    // u^2 = s^2 + scatter^2/passes; no pass reduces s
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
