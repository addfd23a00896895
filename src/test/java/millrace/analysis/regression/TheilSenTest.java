// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.Map;
import millrace.analysis.Reference;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Held against scipy's theilslopes, which follows Sen (1968). */
class TheilSenTest {
  @ParameterizedTest
  @ValueSource(strings = {"theil_outlier10", "theil_ties13", "theil_drift33"})
  void agreesWithSenInSlopeInterceptAndInterval(String name) {
    List<Map<String, String>> rows = Reference.rows("curves/" + name + ".csv");
    double[] x = rows.stream().mapToDouble(r -> Reference.number(r, "x")).toArray();
    double[] y = rows.stream().mapToDouble(r -> Reference.number(r, "y")).toArray();
    JsonNode expected = Reference.json("curves/" + name + ".json");
    Digits digits =
        Digits.of(TheilSenTest.class, Origin.RECOMPUTED, "Theil-Sen slopes computed with scipy");
    for (JsonNode c : expected.get("cases")) {
      TheilSen found = TheilSen.of(x, y, c.get("level").asDouble());
      digits.agree("slope", c.get("slope").asDouble(), found.slope(), 1e-12);
      digits.agree("lower end", c.get("slope_low").asDouble(), found.low(), 1e-12);
      digits.agree("upper end", c.get("slope_high").asDouble(), found.high(), 1e-12);
      double intercept = c.get("intercept_median_y_minus_slope_median_x").asDouble();
      digits.agree("intercept", intercept, found.intercept(), 1e-12);
    }
    assertEquals(expected.get("pairs").asInt(), TheilSen.of(x, y, 0.95).pairs());
  }

  @Test
  void aWildPointDoesNotMoveTheSlope() {
    double[] x = {0, 1, 2, 3, 4, 5, 6};
    double[] y = {0, 2, 4, 600, 8, 10, 12};
    assertEquals(2, TheilSen.of(x, y, 0.95).slope(), 1e-12);
  }

  @Test
  void constantDataHaveNoSlope() {
    TheilSen found = TheilSen.of(new double[] {0, 1, 2}, new double[] {5, 5, 5}, 0.95);
    assertEquals(0, found.slope());
    assertEquals(0, found.high() - found.low());
  }

  @Test
  void refusesPointsThatAllShareOneX() {
    double[] x = {1, 1, 1};
    assertThrows(IllegalArgumentException.class, () -> TheilSen.of(x, x, 0.95));
  }
}
