// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import org.junit.jupiter.api.Test;

/**
 * JCGM 106:2012, 9.5: risks of resistors with guard bands. The configuration is from memory, the
 * risks were computed with scipy by quadrature and by the bivariate normal distribution.
 */
class Jcgm106GlobalRiskTest {
  private static final JsonNode ROWS =
      Reference.json("conformity/jcgm106_global_risk.json").get("rows");

  @Test
  void risksAreThoseOfTheGuidesResistors() {
    assertTrue(ROWS.size() >= 6);
    for (JsonNode row : ROWS) {
      GlobalRisk found =
          GlobalRisk.of(
              new GlobalRisk.Batch(
                  row.get("y0").asDouble(), row.get("u0").asDouble(), row.get("um").asDouble()),
              Limits.between(row.get("TL").asDouble(), row.get("TU").asDouble()),
              Optional.of(Limits.between(row.get("AL").asDouble(), row.get("AU").asDouble())));
      assertEquals(row.get("consumer").asDouble(), found.consumer(), 1e-9, row::toString);
      assertEquals(row.get("producer").asDouble(), found.producer(), 1e-9, row::toString);
    }
  }

  @Test
  void whereNothingIsAcceptedEveryGoodUnitIsRejected() {
    GlobalRisk found =
        GlobalRisk.of(new GlobalRisk.Batch(0, 1, 1), Limits.between(-1, 1), Optional.empty());
    assertEquals(0, found.consumer());
    // Inside one standard deviation of a normal distribution.
    assertEquals(0.682689492137, found.producer(), 1e-9);
  }

  @Test
  void anOpenSideRejectsNothing() {
    Limit upper = new Limit(OptionalDouble.empty(), OptionalDouble.of(3));
    GlobalRisk found = GlobalRisk.of(new GlobalRisk.Batch(0, 1, 0.01), upper, Optional.of(upper));
    assertTrue(found.consumer() < 1e-4 && found.producer() < 1e-4, found::toString);
  }
}
