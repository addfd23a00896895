// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.sequence.SequenceFile.EarlyEndRule;

/**
 * Which limits of a board are settled by what was measured so far (methods.md 12). A limit is
 * settled as met where its rule passes it and the probability that it is broken is at most the
 * consumer's risk over the number of looks: whatever lot a board comes from, one with that limit
 * broken is then accepted early with no more than the consumer's risk. It is settled as broken
 * where the probability that it is met is at most the producer's risk over the number of looks and
 * of limits. A bound, and what is not measured again, is settled by its rule. Immutable,
 * thread-safe.
 */
public final class SettledLimits {
  private final EarlyEndRule rule;
  private final int looks;

  /**
   * By stated risks.
   *
   * @param rule at which risks, of all looks together, and what later looks are for
   * @param looks how often one limit is looked at, at most; 1 or more
   */
  public SettledLimits(EarlyEndRule rule, int looks) {
    if (looks < 1) {
      throw new IllegalArgumentException(looks + " looks; expected 1 or more");
    }
    this.rule = rule;
    this.looks = looks;
  }

  /**
   * The risk that one look takes on one limit that it settles as met.
   *
   * @return above 0 and below 0.5
   */
  public double consumerOfALook() {
    return rule.risks().consumer() / looks;
  }

  /**
   * The risk that one look takes on one limit that it settles as broken.
   *
   * @param limits how many are looked at, 1 or more
   * @return above 0 and below 0.5
   */
  double producerOfALook(int limits) {
    return rule.risks().producer() / looks / limits;
  }

  /** Whether later looks will know more of it. */
  boolean isLookedAtAgain(Result result) {
    boolean again = rule.again().isEmpty() || rule.again().contains(result.quantity());
    return again && !isBound(result);
  }

  /**
   * Whether a limit is settled as met.
   *
   * @param result judged or not
   * @return true if it is
   */
  public boolean isMet(Result result) {
    return result
        .judgement()
        .filter(j -> j.conformity() == Conformity.PASS)
        .filter(j -> !isLookedAtAgain(result) || within(1 - inside(j), consumerOfALook()))
        .isPresent();
  }

  /**
   * A limit that is settled as broken.
   *
   * @param results of one board
   * @return the one that is least likely met; empty if none is settled as broken
   */
  public Optional<Result> broken(List<Result> results) {
    int limits = (int) results.stream().filter(r -> r.judgement().isPresent()).count();
    return results.stream()
        .filter(r -> r.judgement().filter(Judgement::failed).isPresent())
        .filter(
            r ->
                !isLookedAtAgain(r) || within(inside(r.judgement().get()), producerOfALook(limits)))
        .min((a, b) -> Double.compare(inside(a), inside(b)));
  }

  private static double inside(Result result) {
    return isBound(result) ? 0 : inside(result.judgement().orElseThrow());
  }

  /** Without an uncertainty nothing is known of it, and nothing is settled. */
  private static double inside(Judgement judgement) {
    OptionalDouble probability = judgement.probability();
    return probability.orElse(Double.NaN);
  }

  private static boolean within(double risk, double most) {
    return risk <= most;
  }

  private static boolean isBound(Result result) {
    return result.outcome() instanceof ComputationOutcome.Bound;
  }
}
