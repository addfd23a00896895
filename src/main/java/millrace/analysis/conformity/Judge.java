package millrace.analysis.conformity;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Outcome;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Holds results against limits (JCGM 106:2012, ILAC-G8:09/2019; measurement.md 7). Pure;
 * thread-safe.
 */
public final class Judge {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  private Judge() {}

  /**
   * Judges one outcome.
   *
   * @param outcome value, bound or what is missing
   * @param limit the limit, in the same unit
   * @param rule the decision rule
   * @return the judgement
   */
  public static Judgement of(Outcome outcome, Limit limit, DecisionRule rule) {
    return outcome.accept(
        new Outcome.Visitor<>() {
          @Override
          public Judgement value(Outcome.Value value) {
            return judged(value, limit, rule);
          }

          @Override
          public Judgement bound(Outcome.Bound bound) {
            return judged(bound, limit, rule);
          }

          @Override
          public Judgement missing(Outcome.Missing missing) {
            return plain(limit, rule, Conformity.NOT_EVALUATED);
          }
        });
  }

  private static Judgement plain(Limit limit, DecisionRule rule, Conformity conformity) {
    return new Judgement(limit, rule, conformity, OptionalDouble.empty(), OptionalDouble.empty());
  }

  /** The whole bounded interval must lie inside for a pass, outside for a fail (7.3). */
  private static Judgement judged(Outcome.Bound bound, Limit limit, DecisionRule rule) {
    boolean above = bound.side() == Outcome.Side.ABOVE;
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

  private static Judgement judged(Outcome.Value value, Limit limit, DecisionRule rule) {
    Optional<Outcome.Uncertainty> known = value.uncertainty();
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
    return new Judgement(
        limit,
        rule,
        conformity(value.value(), limit, rule, expanded),
        ratio,
        OptionalDouble.of(probability(value.value(), known.get(), limit)));
  }

  private static Conformity conformity(
      double value, Limit limit, DecisionRule rule, double expanded) {
    double guard = rule.guardFactor() * expanded;
    boolean guarded = rule.kind() != DecisionRule.Kind.SIMPLE;
    if (guarded
        && limit.twoSided()
        && limit.upper().getAsDouble() - limit.lower().getAsDouble() <= 2 * guard) {
      return Conformity.NOT_EVALUATED;
    }
    double room = room(value, limit);
    return switch (rule.kind()) {
      case SIMPLE -> room >= 0 ? Conformity.PASS : Conformity.FAIL;
      case GUARDED -> room >= guard ? Conformity.PASS : Conformity.FAIL;
      case GUARDED_FOUR_OUTCOMES -> fourOutcomes(room, guard);
    };
  }

  private static Conformity fourOutcomes(double room, double guard) {
    if (room >= guard) {
      return Conformity.PASS;
    } else if (room >= 0) {
      return Conformity.CONDITIONAL_PASS;
    }
    return room >= -guard ? Conformity.CONDITIONAL_FAIL : Conformity.FAIL;
  }

  /** How far inside the nearer limit the value lies; negative outside. */
  private static double room(double value, Limit limit) {
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
  private static double probability(double value, Outcome.Uncertainty u, Limit limit) {
    if (u.standard() == 0) {
      return limit.contains(value) ? 1 : 0;
    }
    double above =
        limit.upper().isPresent()
            ? cumulative((limit.upper().getAsDouble() - value) / u.standard(), u)
            : 1;
    double below =
        limit.lower().isPresent()
            ? cumulative((limit.lower().getAsDouble() - value) / u.standard(), u)
            : 0;
    return Math.min(1, Math.max(0, above - below));
  }

  private static double cumulative(double z, Outcome.Uncertainty u) {
    if (u.degreesOfFreedom().isEmpty() || u.degreesOfFreedom().getAsDouble() > 1e6) {
      return NORMAL.cumulativeProbability(z);
    }
    double nu = Math.max(1, u.degreesOfFreedom().getAsDouble());
    return new TDistribution(null, nu).cumulativeProbability(z);
  }
}
