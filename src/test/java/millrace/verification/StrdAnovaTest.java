// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import millrace.analysis.Reference;
import millrace.analysis.regression.LinearFit;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * NIST Statistical Reference Datasets, one-way analysis of variance: the residuals of a fit of one
 * mean a group are the scatter within, those of one mean for all less those are between.
 */
class StrdAnovaTest {
  private static final Digits DIGITS =
      Digits.of(StrdAnovaTest.class, Origin.PUBLISHED, "NIST StRD anova");

  private static LinearFit fitted(double[][] columns, double[] y) {
    double[] u = new double[y.length];
    Arrays.fill(u, 1);
    return LinearFit.of(columns, y, u);
  }

  @ParameterizedTest
  @CsvSource({"SiRstv, 1e-10", "SmLs01, 1e-10", "SmLs07, 1e-3", "AtmWtAg, 1e-7"})
  void oneWay(String name, double tolerance) {
    List<Map<String, String>> rows = Reference.rows("strd/anova/" + name + ".csv");
    JsonNode file = Reference.json("strd/anova/" + name + ".json");
    int groups = file.get("groups").asInt();
    double[] y = rows.stream().mapToDouble(r -> Reference.number(r, "y")).toArray();
    double[][] member = new double[groups][y.length];
    double[][] one = new double[1][y.length];
    Arrays.fill(one[0], 1);
    for (int i = 0; i < y.length; i++) {
      member[(int) Reference.number(rows.get(i), "group") - 1][i] = 1;
    }
    LinearFit within = fitted(member, y);
    LinearFit all = fitted(one, y);
    double w = within.chiSquared();
    double between = all.chiSquared() - w;
    double msWithin = w / within.degreesOfFreedom();
    double f = between / (groups - 1) / msWithin;
    JsonNode certified = file.get("certified");
    DIGITS.agree(name + " F", certified.at("/between/f").asDouble(), f, tolerance);
    DIGITS.agree(
        name + " residual sd",
        certified.get("residual_sd").asDouble(),
        Math.sqrt(msWithin),
        tolerance);
    DIGITS.agree(
        name + " R squared",
        certified.get("r_squared").asDouble(),
        between / all.chiSquared(),
        tolerance);
  }
}
