// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.DecisionRule.Kind;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

/** ILAC-G8:09/2019: guard band w = U, every boundary. */
class IlacG8Test {
  private static final JsonNode G8 = Reference.json("conformity/ilac_g8.json");

  private static OptionalDouble number(JsonNode node, String name) {
    return node.hasNonNull(name)
        ? OptionalDouble.of(node.get(name).asDouble())
        : OptionalDouble.empty();
  }

  private static Judgement judged(JsonNode c, Kind kind, double guardFactor) {
    double y = c.get("y").asDouble();
    double expanded = c.get("U").asDouble();
    double k = c.get("k").asDouble();
    ComputationOutcome.Uncertainty u =
        new ComputationOutcome.Uncertainty(
            expanded / k, expanded, y - expanded, y + expanded, 0.9545, k, OptionalDouble.empty());
    return Judge.of(
        new ComputationOutcome.Value(y, Optional.of(u), 1),
        new Limit(number(c, "TL"), number(c, "TU")),
        new DecisionRule(kind, guardFactor));
  }

  @Test
  void everyCaseHasThePublishedOutcomeByEveryRule() {
    assertEquals(39, G8.get("cases").size());
    for (JsonNode c : G8.get("cases")) {
      assertEquals(
          c.get("binary_simple").asText(),
          judged(c, Kind.SIMPLE, 0).conformity().text(),
          c::toString);
      assertEquals(
          c.get("binary_guarded_w_equals_U").asText(),
          judged(c, Kind.GUARDED, 1).conformity().text(),
          c::toString);
      assertEquals(
          c.get("outcome_nonbinary").asText(),
          judged(c, Kind.GUARDED_FOUR_OUTCOMES, 1).conformity().text(),
          c::toString);
    }
  }

  @Test
  void everyCaseHasItsProbabilityOfConformity() {
    for (JsonNode c : notEmpty(G8.get("cases"))) {
      double found = judged(c, Kind.SIMPLE, 0).probability().orElseThrow();
      assertEquals(c.get("p_conforming").asDouble(), found, 1e-12, c::toString);
    }
  }

  /** A value on the acceptance limit is wrongly accepted with the risk of the table. */
  @Test
  void theRiskAtTheAcceptanceLimitIsThatOfTheTable() {
    Digits digits = Digits.of(IlacG8Test.class, Origin.MEMORY, "ILAC-G8:09/2019");
    for (JsonNode row : notEmpty(G8.get("guard_band_table"))) {
      double w = row.get("w_over_U").asDouble();
      double y = 10 - w;
      ComputationOutcome.Uncertainty u =
          new ComputationOutcome.Uncertainty(
              0.5, 1, y - 1, y + 1, 0.9545, 2, OptionalDouble.empty());
      Judgement found =
          Judge.of(
              new ComputationOutcome.Value(y, Optional.of(u), 1),
              new Limit(OptionalDouble.empty(), OptionalDouble.of(10)),
              new DecisionRule(Kind.GUARDED, Math.max(w, 0)));
      assertEquals(w >= 0 ? Conformity.PASS : Conformity.FAIL, found.conformity());
      double risk = row.get("worst_case_false_accept_at_acceptance_limit").asDouble();
      digits.agree(
          "probability at the acceptance limit",
          1 - risk,
          found.probability().orElseThrow(),
          1e-12);
    }
  }
}
