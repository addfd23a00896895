// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import millrace.analysis.Reference;
import millrace.analysis.regression.NonlinearFit;
import millrace.analysis.regression.NonlinearFit.Data;
import millrace.analysis.regression.NonlinearFit.Finding;
import millrace.analysis.regression.NonlinearFit.Fitted;
import millrace.analysis.regression.NonlinearFit.Model;
import millrace.analysis.regression.NonlinearFit.Unfitted;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** NIST Statistical Reference Datasets, nonlinear least squares, from both published starts. */
class StrdNonlinearTest {
  private static final Digits DIGITS =
      Digits.of(StrdNonlinearTest.class, Origin.PUBLISHED, "NIST StRD nonlinear");
  private static final int MOST = 5000;

  private static double rational(double x, double[] b) {
    double up = b[0] + x * (b[1] + x * (b[2] + x * b[3]));
    return up / (1 + x * (b[4] + x * (b[5] + x * b[6])));
  }

  private static final Map<String, Model> MODELS =
      Map.of(
          "Misra1a", (x, b) -> b[0] * -Math.expm1(-b[1] * x),
          "BoxBOD", (x, b) -> b[0] * -Math.expm1(-b[1] * x),
          "Chwirut2", (x, b) -> Math.exp(-b[0] * x) / (b[1] + b[2] * x),
          "MGH17", (x, b) -> b[0] + b[1] * Math.exp(-x * b[3]) + b[2] * Math.exp(-x * b[4]),
          "Lanczos3",
              (x, b) ->
                  b[0] * Math.exp(-b[1] * x)
                      + b[2] * Math.exp(-b[3] * x)
                      + b[4] * Math.exp(-b[5] * x),
          "Hahn1", StrdNonlinearTest::rational,
          "Thurber", StrdNonlinearTest::rational);

  private static final Map<String, Model> MORE =
      Map.of(
          "DanWood", (x, b) -> b[0] * Math.pow(x, b[1]),
          "MGH09", (x, b) -> b[0] * x * (x + b[1]) / (x * (x + b[2]) + b[3]),
          "MGH10", (x, b) -> b[0] * Math.exp(b[1] / (x + b[2])),
          "Rat43", (x, b) -> b[0] * Math.pow(1 + Math.exp(b[1] - b[2] * x), -1 / b[3]),
          "Eckerle4",
              (x, b) -> b[0] / b[1] * Math.exp(-(x - b[2]) * (x - b[2]) / (2 * b[1] * b[1])));

  private static Model model(String name) {
    return MODELS.containsKey(name) ? MODELS.get(name) : MORE.get(name);
  }

  private static double[] numbers(JsonNode array) {
    double[] numbers = new double[array.size()];
    Arrays.setAll(numbers, i -> array.get(i).asDouble());
    return numbers;
  }

  private static Finding fit(String name, String start) {
    List<Map<String, String>> rows = Reference.rows("strd/nonlinear/" + name + ".csv");
    double[] x = rows.stream().mapToDouble(r -> Reference.number(r, "x")).toArray();
    double[] y = rows.stream().mapToDouble(r -> Reference.number(r, "y")).toArray();
    double[] u = new double[x.length];
    Arrays.fill(u, 1);
    double[] from = numbers(Reference.json("strd/nonlinear/" + name + ".json").get(start));
    return NonlinearFit.of(new Data(x, y, u), model(name), from, MOST);
  }

  @ParameterizedTest
  @CsvSource({
    "Misra1a, start1, 1e-9, 1e-8",
    "Misra1a, start2, 1e-9, 1e-8",
    "Chwirut2, start1, 1e-8, 1e-7",
    "Chwirut2, start2, 1e-8, 1e-7",
    "Lanczos3, start1, 1e-6, 1e-5",
    "Lanczos3, start2, 1e-6, 1e-5",
    "BoxBOD, start2, 1e-8, 1e-7",
    "Hahn1, start1, 1e-7, 1e-6",
    "Hahn1, start2, 1e-7, 1e-6",
    "MGH17, start1, 1e-7, 1e-6",
    "MGH17, start2, 1e-7, 1e-6",
    "Thurber, start1, 1e-7, 1e-6",
    "Thurber, start2, 1e-7, 1e-6",
    "DanWood, start1, 1e-9, 1e-8",
    "DanWood, start2, 1e-9, 1e-8",
    "MGH09, start1, 1e-7, 1e-6",
    "MGH09, start2, 1e-7, 1e-6",
    "MGH10, start1, 1e-7, 1e-6",
    "MGH10, start2, 1e-7, 1e-6",
    "Rat43, start1, 1e-7, 1e-6",
    "Rat43, start2, 1e-7, 1e-6",
    "Eckerle4, start1, 1e-7, 1e-6",
    "Eckerle4, start2, 1e-7, 1e-6"
  })
  void estimatesAndTheirStandardErrors(
      String name, String start, double tolerance, double tolerance2) {
    Fitted fit = assertInstanceOf(Fitted.class, fit(name, start));
    JsonNode certified = Reference.json("strd/nonlinear/" + name + ".json").get("certified");
    String check = name + " " + start;
    for (int j = 0; j < fit.parameters().size(); j++) {
      JsonNode b = certified.get("parameters").get(j);
      DIGITS.agree(
          check + " estimate", b.get("estimate").asDouble(), fit.parameters().get(j), tolerance);
      DIGITS.agree(check + " sd", b.get("sd").asDouble(), fit.uncertainties().get(j), tolerance2);
    }
  }

  @Test
  void boxBodFromFarEitherFindsItOrSaysThatItDidNot() {
    Finding finding = fit("BoxBOD", "start1");
    if (finding instanceof Fitted fitted) {
      assertEquals(213.80940889, fitted.parameters().get(0), 1e-5);
    } else {
      assertFalse(assertInstanceOf(Unfitted.class, finding).reason().isBlank());
    }
  }
}
