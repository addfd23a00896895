// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import millrace.analysis.conformity.AcceptanceProbability;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ComputationOutcome.Uncertainty;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.planning.LimitForecast;

/**
 * The probability that a measurement accepts a board, by the true value of the board: the measured
 * value is normally distributed about it with the uncertainty of a computed test (JCGM 106:2012,
 * 9.5). The mean over several computed tests, whose scatter differs. A bound accepts exactly the
 * boards that are at least as good as the bound; the lower of two loads that enclose a compliance
 * voltage does the same. Immutable.
 */
final class LimitAcceptance {
  private final List<Result> computed;
  private final boolean strict;
  private final double scale;

  private LimitAcceptance(List<Result> computed, boolean strict, double scale) {
    this.computed = computed;
    this.strict = strict;
    this.scale = scale;
  }

  /** Makes the acceptance of a limit from the result of each computed test. */
  static LimitAcceptance of(LimitForecast limit, List<List<LimitForecast>> tests, boolean strict) {
    List<Result> found = new ArrayList<>();
    for (List<LimitForecast> test : tests) {
      test.stream()
          .filter(l -> l.key().equals(limit.key()))
          .map(LimitForecast::result)
          .findFirst()
          .ifPresent(found::add);
    }
    return new LimitAcceptance(found, strict, 1);
  }

  /** The same with every uncertainty multiplied by a factor. */
  LimitAcceptance scaled(double times) {
    return new LimitAcceptance(computed, strict, times);
  }

  /** The probability that the rule accepts the limit, by its true value. */
  DoubleUnaryOperator byRule() {
    return within(computed.stream().mapToDouble(this::guard).toArray());
  }

  /** The probability that a look settles the limit as met at a risk, by its true value. */
  DoubleUnaryOperator surelyMet(double risk) {
    return within(computed.stream().mapToDouble(r -> Math.max(guard(r), band(r, risk))).toArray());
  }

  /** The probability that a look settles the limit as broken at a risk, by its true value. */
  DoubleUnaryOperator surelyBroken(double risk) {
    DoubleUnaryOperator not = within(computed.stream().mapToDouble(r -> -band(r, risk)).toArray());
    return value -> 1 - not.applyAsDouble(value);
  }

  /** The mean, over the computed tests, of the probability inside the limit by a band. */
  private DoubleUnaryOperator within(double[] bands) {
    return value -> {
      double sum = 0;
      for (int i = 0; i < bands.length; i++) {
        sum += inside(computed.get(i), value, bands[i]);
      }
      return bands.length == 0 ? 0 : sum / bands.length;
    };
  }

  private double guard(Result r) {
    DecisionRule rule = r.judgement().orElseThrow().rule();
    boolean guarded =
        switch (rule.kind()) {
          case SIMPLE -> false;
          case GUARDED -> true;
          case GUARDED_FOUR_OUTCOMES -> strict;
        };
    return guarded
        ? rule.guardFactor() * scale * uncertainty(r).map(Uncertainty::expanded).orElse(0.0)
        : 0;
  }

  private static Optional<Uncertainty> uncertainty(Result r) {
    return r.outcome() instanceof ComputationOutcome.Value v ? v.uncertainty() : Optional.empty();
  }

  /**
   * The distance from a limit at which a value is on its other side with at most a given risk; no
   * distance without an uncertainty.
   */
  private double band(Result r, double risk) {
    boolean isBound = r.outcome() instanceof ComputationOutcome.Bound;
    return uncertainty(r)
        .map(u -> scale * u.standard() * AcceptanceProbability.factor(risk, u.degreesOfFreedom()))
        .orElse(isBound ? 0 : Double.POSITIVE_INFINITY);
  }

  /** The probability that a measured value lies inside its limit by a band. */
  private double inside(Result r, double value, double band) {
    Judgement judgement = r.judgement().orElseThrow();
    if (r.outcome() instanceof ComputationOutcome.Bound bound) {
      return bound(bound, judgement, value);
    }
    if (r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE
        && r.outcome() instanceof ComputationOutcome.Value v) {
      return enclosed(v, judgement, value);
    }
    double u = scale * uncertainty(r).map(Uncertainty::standard).orElse(0.0);
    return AcceptanceProbability.of(
        new AcceptanceProbability.Accepted(judgement.limit(), band), value, u);
  }

  /** Two loads enclose a knee: a knee beyond the lower load is accepted. */
  private static double enclosed(
      ComputationOutcome.Value found, Judgement judgement, double value) {
    double heldV = found.value() - found.uncertainty().map(Uncertainty::expanded).orElse(0.0);
    return value >= heldV && !judgement.failed() ? 1 : 0;
  }

  private static double bound(ComputationOutcome.Bound bound, Judgement judgement, double value) {
    boolean shown =
        bound.side() == ComputationOutcome.Side.ABOVE
            ? value >= bound.value()
            : value <= bound.value();
    return shown && !judgement.failed() ? 1 : 0;
  }
}
