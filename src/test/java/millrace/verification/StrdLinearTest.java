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

/** NIST Statistical Reference Datasets, linear least squares. */
class StrdLinearTest {
  private static final Digits DIGITS =
      Digits.of(StrdLinearTest.class, Origin.PUBLISHED, "NIST StRD linear");

  private static double[] column(List<Map<String, String>> rows, String name) {
    return rows.stream().mapToDouble(r -> Reference.number(r, name)).toArray();
  }

  private static double[] ones(int n) {
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    return ones;
  }

  @ParameterizedTest
  @CsvSource({
    "Norris, 1, 1e-11",
    "Pontius, 2, 1e-11",
    "Wampler1, 5, 1e-9",
    "Wampler2, 5, 1e-9",
    "Wampler3, 5, 1e-9",
    "Wampler4, 5, 1e-9",
    "Wampler5, 5, 1e-7",
    "Filip, 10, 1e-7"
  })
  void polynomials(String name, int degree, double tolerance) {
    List<Map<String, String>> rows = Reference.rows("strd/linear/" + name + ".csv");
    JsonNode certified = Reference.json("strd/linear/" + name + ".json").get("certified");
    double[] x = column(rows, "x");
    PolynomialFit fit = PolynomialFit.of(x, column(rows, "y"), ones(x.length), degree);
    double chi = fit.centred().chiSquared();
    double sd = Math.sqrt(chi / fit.centred().degreesOfFreedom());
    double[] scatter = new double[x.length];
    Arrays.fill(scatter, sd);
    for (int j = 0; j <= degree; j++) {
      JsonNode b = certified.get("coefficients").get("B" + j);
      DIGITS.agree(
          name + " coefficient", b.get("estimate").asDouble(), fit.coefficient(j), tolerance);
      DIGITS.agree(name + " sd", b.get("sd").asDouble(), fit.uncertainty(j, scatter), 1e-7);
    }
    DIGITS.agree(name + " residual sd", certified.get("residual_sd").asDouble(), sd, 1e-7);
  }

  @ParameterizedTest
  @CsvSource({"NoInt1, x, 1e-12", "NoInt2, x, 1e-12", "Longley, x1 x2 x3 x4 x5 x6, 1e-9"})
  void regressions(String name, String variables, double tolerance) {
    List<Map<String, String>> rows = Reference.rows("strd/linear/" + name + ".csv");
    JsonNode reference = Reference.json("strd/linear/" + name + ".json");
    int shift = reference.get("intercept").asBoolean() ? 0 : 1;
    String[] names = variables.split(" ");
    double[][] columns = new double[names.length + 1 - shift][];
    columns[0] = ones(rows.size());
    for (int k = 0; k < names.length; k++) {
      columns[k + 1 - shift] = column(rows, names[k]);
    }
    LinearFit fit = LinearFit.of(columns, column(rows, "y"), ones(rows.size()));
    double sd = Math.sqrt(fit.chiSquared() / fit.degreesOfFreedom());
    JsonNode certified = reference.get("certified");
    for (int j = 0; j < columns.length; j++) {
      JsonNode b = certified.get("coefficients").get("B" + (j + shift));
      double norm = Math.sqrt(Arrays.stream(fit.estimator(j)).map(e -> e * e).sum());
      DIGITS.agree(
          name + " coefficient", b.get("estimate").asDouble(), fit.coefficient(j), tolerance);
      DIGITS.agree(name + " sd", b.get("sd").asDouble(), sd * norm, tolerance);
    }
    DIGITS.agree(name + " residual sd", certified.get("residual_sd").asDouble(), sd, tolerance);
  }
}
