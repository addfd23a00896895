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
 * Decides which limits of a board the measurements so far settle (methods.md 12). A limit is
 * settled as met where its rule passes it and the probability that it is broken is at most the
 * consumer's risk divided by the number of looks: a board that breaks the limit is then accepted
 * early with at most the consumer's risk, whatever lot it comes from. It is settled as broken where
 * the probability that it is met is at most the producer's risk divided by the product of the
 * number of looks and the number of limits. Its rule alone settles a bound, and a limit that is not
 * measured again. Immutable, thread-safe.
 */
public final class SettledLimits {
  private final EarlyEndRule rule;
  private final int looks;

  /**
   * Makes the decision for stated risks.
   *
   * @param rule the risks of all looks together, and the quantities that later looks improve
   * @param looks the largest number of looks at one limit; 1 or more
   */
  public SettledLimits(EarlyEndRule rule, int looks) {
    if (looks < 1) {
      throw new IllegalArgumentException(looks + " looks; expected 1 or more");
    }
    this.rule = rule;
    this.looks = looks;
  }

  /**
   * The risk of one look at one limit that it settles as met.
   *
   * @return above 0 and below 0.5
   */
  public double consumerOfALook() {
    return rule.risks().consumer() / looks;
  }

  /**
   * The risk of one look at one limit that it settles as broken.
   *
   * @param limits the number of limits looked at, 1 or more
   * @return above 0 and below 0.5
   */
  double producerOfALook(int limits) {
    return rule.risks().producer() / looks / limits;
  }

  /** Whether later looks improve the result. */
  boolean isLookedAtAgain(Result result) {
    boolean again = rule.again().isEmpty() || rule.again().contains(result.quantity());
    return again && !isBound(result);
  }

  /**
   * Whether a limit is settled as met.
   *
   * @param result a result, judged or not
   * @return true if the limit is settled as met
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
   * @param results the results of one board
   * @return the limit with the smallest probability of being met; empty if none is settled as
   *     broken
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

  /** A result without an uncertainty settles nothing. */
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
