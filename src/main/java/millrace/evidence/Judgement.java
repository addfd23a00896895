package millrace.evidence;

import java.util.OptionalDouble;

/**
 * A result held against its limit (measurement.md 7).
 *
 * @param limit the limit, in the unit of the result
 * @param rule the rule by which it was judged
 * @param conformity the outcome
 * @param testUncertaintyRatio (upper - lower)/(2 U), for two-sided limits of a result with U
 * @param probability probability of conformity, 0 to 1; empty without an uncertainty
 */
public record Judgement(
    Limit limit,
    DecisionRule rule,
    Conformity conformity,
    OptionalDouble testUncertaintyRatio,
    OptionalDouble probability) {

  /** Checks the probability. */
  public Judgement {
    if (probability.isPresent()
        && !(probability.getAsDouble() >= 0 && probability.getAsDouble() <= 1)) {
      throw new IllegalArgumentException(
          "probability of conformity is " + probability.getAsDouble() + ", must be from 0 to 1");
    }
  }
}
