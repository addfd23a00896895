// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limit;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

/** JCGM 106:2012, clause 7: probability of conformity. */
class Jcgm106Test {
  private static final JsonNode EXPECTED = Reference.json("conformity/jcgm106_conformance.json");

  private static double probability(JsonNode c, OptionalDouble nu) {
    double y = c.get("y").asDouble();
    double u = c.get("u").asDouble();
    ComputationOutcome.Uncertainty uncertainty =
        new ComputationOutcome.Uncertainty(u, 2 * u, y - 2 * u, y + 2 * u, 0.95, 2, nu);
    Limit limit = new Limit(side(c, "lower"), side(c, "upper"));
    return Judge.of(
            new ComputationOutcome.Value(y, Optional.of(uncertainty), 1),
            limit,
            DecisionRule.SIMPLE)
        .probability()
        .orElseThrow();
  }

  private static OptionalDouble side(JsonNode c, String name) {
    return c.hasNonNull(name) ? OptionalDouble.of(c.get(name).asDouble()) : OptionalDouble.empty();
  }

  @Test
  void theExamplesOfTheGuide() {
    Digits digits = Digits.of(Jcgm106Test.class, Origin.MEMORY, "JCGM 106:2012");
    for (JsonNode c : notEmpty(EXPECTED.get("examples"))) {
      double found = probability(c, OptionalDouble.empty());
      assertEquals(c.get("published_pc").asDouble(), found, 0.005);
      digits.agree("examples of clause 7", c.get("p").asDouble(), found, 1e-12);
      digits.agree(
          "examples of clause 7 with Student's t",
          c.get("pc_student_9").asDouble(),
          probability(c, OptionalDouble.of(9)),
          1e-10);
    }
  }

  @Test
  void valuesAndUncertaintiesOverAGrid() {
    for (JsonNode c : notEmpty(EXPECTED.get("grid"))) {
      assertEquals(c.get("pc").asDouble(), probability(c, OptionalDouble.empty()), 1e-12);
      assertEquals(c.get("pc_student_9").asDouble(), probability(c, OptionalDouble.of(9)), 1e-10);
    }
  }
}
