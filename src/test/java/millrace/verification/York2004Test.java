// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.Map;
import millrace.analysis.Reference;
import millrace.analysis.regression.YorkLine;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

/** Pearson's data with York's weights: York et al., Am. J. Phys. 72 (2004) 367. */
class York2004Test {
  private static final String SOURCE = "York et al. 2004";
  private static final Digits DIGITS = Digits.of(York2004Test.class, Origin.RECOMPUTED, SOURCE);
  private static final Digits RECALLED = Digits.of(York2004Test.class, Origin.MEMORY, SOURCE);

  private static double[] column(List<Map<String, String>> rows, String name) {
    return rows.stream().mapToDouble(r -> Reference.number(r, name)).toArray();
  }

  private static double[] fromWeights(double... w) {
    return java.util.Arrays.stream(w).map(v -> 1 / Math.sqrt(v)).toArray();
  }

  @Test
  void errorsOnBothAxes() {
    List<Map<String, String>> rows = Reference.rows("curves/pearson_york.csv");
    YorkLine.Points points =
        new YorkLine.Points(
            column(rows, "x"),
            column(rows, "y"),
            fromWeights(column(rows, "wx")),
            fromWeights(column(rows, "wy")));
    YorkLine line = YorkLine.of(points, 100).orElseThrow();
    JsonNode expected = Reference.json("curves/pearson_york.json").get("york2004");
    DIGITS.agree("slope", expected.get("slope").asDouble(), line.slope(), 1e-9);
    DIGITS.agree("intercept", expected.get("intercept").asDouble(), line.intercept(), 1e-9);
    DIGITS.agree("u(slope)", expected.get("se_slope").asDouble(), line.slopeU(), 1e-7);
    DIGITS.agree("u(intercept)", expected.get("se_intercept").asDouble(), line.interceptU(), 1e-7);
    DIGITS.agree("covariance", expected.get("cov").asDouble(), line.covariance(), 1e-7);
    DIGITS.agree("S", expected.get("S").asDouble(), line.chiSquared(), 1e-9);
    RECALLED.agree("published slope", -0.4805, line.slope(), 1e-4);
    RECALLED.agree("published intercept", 5.4799, line.intercept(), 1e-5);
  }
}
