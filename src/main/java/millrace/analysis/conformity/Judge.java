// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Judgement.Risk;
import millrace.evidence.Limit;
import millrace.evidence.Result;

/**
 * Judges results against limits (JCGM 106:2012, ILAC-G8:09/2019; methods.md 7). Pure; thread-safe.
 */
public final class Judge {
  private Judge() {}

  /**
   * Judges one outcome.
   *
   * @param outcome value, bound or what is missing
   * @param limit the limit, in the same unit
   * @param rule the decision rule
   * @return the judgement
   */
  public static Judgement of(ComputationOutcome outcome, Limit limit, DecisionRule rule) {
    return outcome.accept(
        new ComputationOutcome.Visitor<>() {
          @Override
          public Judgement value(ComputationOutcome.Value value) {
            return judged(value, limit, rule);
          }

          @Override
          public Judgement bound(ComputationOutcome.Bound bound) {
            return judged(bound, limit, rule);
          }

          @Override
          public Judgement missing(ComputationOutcome.Missing missing) {
            return plain(limit, rule, Conformity.NOT_EVALUATED);
          }
        });
  }

  private static Judgement plain(Limit limit, DecisionRule rule, Conformity conformity) {
    return judgement(limit, rule, conformity, OptionalDouble.empty(), OptionalDouble.empty());
  }

  private static Judgement judgement(
      Limit limit,
      DecisionRule rule,
      Conformity conformity,
      OptionalDouble ratio,
      OptionalDouble probability) {
    return new Judgement(
        limit,
        ConditionBox.NONE,
        rule,
        conformity,
        ratio,
        probability,
        BoxJudgementBasis.MEASURED,
        new Risk(
            specific(conformity, probability), OptionalDouble.empty(), OptionalDouble.empty()));
  }

  /**
   * The specific risk (JCGM 106:2012, 9.3.2 and 9.3.3): that an accepted value lies outside, that a
   * rejected one lies inside.
   */
  private static OptionalDouble specific(Conformity conformity, OptionalDouble probability) {
    if (probability.isEmpty() || conformity == Conformity.NOT_EVALUATED) {
      return OptionalDouble.empty();
    }
    boolean accepted = conformity == Conformity.PASS || conformity == Conformity.CONDITIONAL_PASS;
    double inside = probability.getAsDouble();
    return OptionalDouble.of(accepted ? 1 - inside : inside);
  }

  /** The whole bounded interval must lie inside for a pass, outside for a fail (7.3). */
  private static Judgement judged(ComputationOutcome.Bound bound, Limit limit, DecisionRule rule) {
    boolean above = bound.side() == ComputationOutcome.Side.ABOVE;
    OptionalDouble near = above ? limit.lower() : limit.upper();
    OptionalDouble far = above ? limit.upper() : limit.lower();
    boolean inside =
        far.isEmpty() && near.isPresent() && beyond(bound.value(), near.getAsDouble(), above);
    boolean outside = far.isPresent() && beyond(bound.value(), far.getAsDouble(), above);
    Conformity conformity =
        inside ? Conformity.PASS : outside ? Conformity.FAIL : Conformity.NOT_EVALUATED;
    return plain(limit, rule, conformity);
  }

  private static boolean beyond(double value, double limit, boolean above) {
    return above ? value >= limit : value <= limit;
  }

  private static Judgement judged(ComputationOutcome.Value value, Limit limit, DecisionRule rule) {
    Optional<ComputationOutcome.Uncertainty> known = value.uncertainty();
    if (known.isEmpty()) {
      Conformity simple = limit.contains(value.value()) ? Conformity.PASS : Conformity.FAIL;
      return plain(limit, rule, simple);
    }
    double expanded = known.get().expanded();
    OptionalDouble ratio =
        limit.twoSided() && expanded > 0
            ? OptionalDouble.of(
                (limit.upper().getAsDouble() - limit.lower().getAsDouble()) / (2 * expanded))
            : OptionalDouble.empty();
    return judgement(
        limit,
        rule,
        conformity(value.value(), limit, rule, expanded),
        ratio,
        OptionalDouble.of(probability(value.value(), known.get(), limit)));
  }

  private static Conformity conformity(
      double value, Limit limit, DecisionRule rule, double expanded) {
    double guard = guard(rule, expanded);
    double room = room(value, limit);
    double slack = slack(value, limit, guard);
    return switch (rule.kind()) {
      case SIMPLE -> room >= 0 ? Conformity.PASS : Conformity.FAIL;
      case GUARDED -> room >= guard - slack ? Conformity.PASS : Conformity.FAIL;
      case GUARDED_FOUR_OUTCOMES -> fourOutcomes(room, guard, slack);
    };
  }

  private static double guard(DecisionRule rule, double expanded) {
    return rule.kind() == DecisionRule.Kind.SIMPLE ? 0 : rule.guardFactor() * expanded;
  }

  /**
   * Tells whether anything could pass: not where the guard bands of a two-sided limit fill it, T_U
   * - T_L at most 2 w (methods.md 7.2). Asked before a run with the predicted U.
   *
   * @param limit the limit
   * @param rule the decision rule
   * @param expanded U, in the unit of the limit, 0 or more
   * @return false if no value could pass
   */
  public static boolean canPass(Limit limit, DecisionRule rule, double expanded) {
    double guard = guard(rule, expanded);
    if (!limit.twoSided() || guard == 0) {
      return true;
    }
    double width = limit.upper().getAsDouble() - limit.lower().getAsDouble();
    return width > 2 * guard + slack(0, limit, guard);
  }

  /**
   * Allowance for binary rounding of decimal numbers: a value exactly on a boundary counts as
   * inside.
   */
  private static double slack(double value, Limit limit, double guard) {
    double largest = Math.max(Math.abs(value), guard);
    largest = Math.max(largest, Math.abs(limit.upper().orElse(0)));
    return 4 * Math.ulp(Math.max(largest, Math.abs(limit.lower().orElse(0))));
  }

  /**
   * Adds to a judged result the note that its judgement needs: no uncertainty, a bound that
   * straddles the limit, guard bands that leave nothing to pass (methods.md 7.2, 7.3).
   *
   * @param result a result, judged or not
   * @return the same result, with a note where there is something to say
   */
  public static Result remarked(Result result) {
    return result.judgement().flatMap(j -> remark(result, j)).map(result::noting).orElse(result);
  }

  private static Optional<String> remark(Result result, Judgement judgement) {
    boolean open = judgement.conformity() == Conformity.NOT_EVALUATED;
    DecisionRule rule = judgement.rule();
    return result
        .outcome()
        .accept(
            new ComputationOutcome.Visitor<Optional<String>>() {
              @Override
              public Optional<String> value(ComputationOutcome.Value value) {
                if (value.uncertainty().isEmpty()) {
                  return Optional.of("simple acceptance, uncertainty not evaluated");
                }
                double expanded = value.uncertainty().get().expanded();
                return canPass(judgement.limit(), rule, expanded)
                    ? Optional.empty()
                    : Optional.of("no value could have passed: U is too large for this limit");
              }

              @Override
              public Optional<String> bound(ComputationOutcome.Bound bound) {
                return open
                    ? Optional.of("the bound does not tell which side of the limit it is")
                    : Optional.empty();
              }

              @Override
              public Optional<String> missing(ComputationOutcome.Missing missing) {
                return Optional.empty();
              }
            });
  }

  private static Conformity fourOutcomes(double room, double guard, double slack) {
    if (room >= guard - slack) {
      return Conformity.PASS;
    } else if (room >= 0) {
      return Conformity.CONDITIONAL_PASS;
    }
    return room >= -guard - slack ? Conformity.CONDITIONAL_FAIL : Conformity.FAIL;
  }

  /**
   * Distance of a value from the nearer limit.
   *
   * @param value in the unit of the limit
   * @param limit the limit
   * @return in the unit of the limit; negative outside
   */
  public static double room(double value, Limit limit) {
    double room = Double.POSITIVE_INFINITY;
    if (limit.upper().isPresent()) {
      room = limit.upper().getAsDouble() - value;
    }
    if (limit.lower().isPresent()) {
      room = Math.min(room, value - limit.lower().getAsDouble());
    }
    return room;
  }

  /**
   * Probability that the quantity lies inside (JCGM 106:2012, 7.2), by the normal distribution, or
   * by Student's t where the degrees of freedom are finite.
   */
  private static double probability(double value, ComputationOutcome.Uncertainty u, Limit limit) {
    if (u.standard() == 0) {
      return limit.contains(value) ? 1 : 0;
    }
    double above =
        limit.upper().isPresent()
            ? StandardizedError.below(
                (limit.upper().getAsDouble() - value) / u.standard(), u.degreesOfFreedom())
            : 1;
    double below =
        limit.lower().isPresent()
            ? StandardizedError.below(
                (limit.lower().getAsDouble() - value) / u.standard(), u.degreesOfFreedom())
            : 0;
    return Math.min(1, Math.max(0, above - below));
  }
}
