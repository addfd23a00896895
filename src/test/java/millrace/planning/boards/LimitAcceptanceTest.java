// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import millrace.analysis.Reference;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.planning.LimitForecast;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;

/** How likely a board is accepted, by what it is. */
class LimitAcceptanceTest {
  private static final int STEPS = 20_000;
  private static final DecisionRule GUARDED = new DecisionRule(DecisionRule.Kind.GUARDED, 1);

  private static DoubleUnaryOperator byRule(Result result) {
    LimitForecast limit = BoardLimits.forecast(result);
    return LimitAcceptance.of(limit, List.of(List.of(limit)), false).byRule();
  }

  /**
   * JCGM 106:2012, 9.5: risks of resistors with guard bands of 0 to 2 standard uncertainties. The
   * configuration is from memory, the risks were computed with scipy by quadrature.
   */
  @Test
  void withANormalSpreadTheRisksAreThoseOfTheGuidesResistors() {
    JsonNode rows = Reference.json("conformity/jcgm106_global_risk.json").get("rows");
    int held = 0;
    for (JsonNode row : rows) {
      double u = row.get("um").asDouble();
      double guard = row.get("AL").asDouble() - row.get("TL").asDouble();
      boolean mirrored =
          Math.abs(row.get("TU").asDouble() - row.get("AU").asDouble() - guard) < 1e-9;
      if (guard < -1e-9 || !mirrored) {
        continue; // a guard factor is 0 or more, and the same at both sides
      }
      DecisionRule rule = new DecisionRule(DecisionRule.Kind.GUARDED, Math.max(0, guard) / (2 * u));
      Limit limit = Limits.between(row.get("TL").asDouble(), row.get("TU").asDouble());
      double mean = row.get("y0").asDouble();
      DoubleUnaryOperator accepted =
          byRule(
              BoardLimits.result(
                  ResultQuantity.CURRENT_ERROR, BoardLimits.value(mean, u), limit, rule));
      double[] risks = risks(accepted, limit, new NormalDistribution(null, mean, sd(row)));
      assertEquals(row.get("consumer").asDouble(), risks[0], 2e-5, row::toString);
      assertEquals(row.get("producer").asDouble(), risks[1], 2e-5, row::toString);
      held++;
    }
    assertTrue(held >= 5, "rows held: " + held);
  }

  private static double sd(JsonNode row) {
    return row.get("u0").asDouble();
  }

  /** The mean over boards at equal steps of probability. */
  private static double[] risks(DoubleUnaryOperator accepted, Limit limit, NormalDistribution of) {
    double[] risks = new double[2];
    for (int i = 0; i < STEPS; i++) {
      double board = of.inverseCumulativeProbability((i + 0.5) / STEPS);
      boolean met = limit.contains(board);
      double passes = accepted.applyAsDouble(board);
      risks[met ? 1 : 0] += (met ? 1 - passes : passes) / STEPS;
    }
    return risks;
  }

  @Test
  void aBoundAcceptsWhatIsAtLeastAsGoodAndNothingElse() {
    Limit least = new Limit(OptionalDouble.of(13.5), OptionalDouble.empty());
    ComputationOutcome bound = new ComputationOutcome.Bound(ComputationOutcome.Side.ABOVE, 13.6, 5);
    DoubleUnaryOperator accepted =
        byRule(BoardLimits.result(ResultQuantity.COMPLIANCE_VOLTAGE, bound, least, GUARDED));
    assertEquals(0, accepted.applyAsDouble(13.4));
    assertEquals(0, accepted.applyAsDouble(13.55));
    assertEquals(1, accepted.applyAsDouble(13.7));
  }

  @Test
  void anEnclosedKneeIsAcceptedFromTheLowerOfItsLoadsOn() {
    Limit least = new Limit(OptionalDouble.of(13.5), OptionalDouble.empty());
    DoubleUnaryOperator accepted =
        byRule(
            BoardLimits.result(
                ResultQuantity.COMPLIANCE_VOLTAGE, BoardLimits.value(14, 0.24), least, GUARDED));
    assertEquals(0, accepted.applyAsDouble(13.51));
    assertEquals(1, accepted.applyAsDouble(13.53));
  }
}
