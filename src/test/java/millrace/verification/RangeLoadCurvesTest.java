// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadResults;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.regression.TwoSegmentFit;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Synthetic curves with known truth, fitted independently with R (folder curves). */
class RangeLoadCurvesTest {
  private static final Digits DIGITS =
      Digits.of(RangeLoadCurvesTest.class, Origin.RECOMPUTED, "curves (R)");

  private static double[] column(List<Map<String, String>> rows, String name) {
    return rows.stream().mapToDouble(r -> Reference.number(r, name)).toArray();
  }

  private static double[] ones(int n) {
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    return ones;
  }

  @ParameterizedTest
  @CsvSource({"knee_exact, 1e-5", "knee_noisy, 1e-6", "knee_uneven, 1e-6"})
  void theBreakOfTwoSegments(String name, double tolerance) {
    List<Map<String, String>> rows = Reference.rows("curves/" + name + ".csv");
    JsonNode expected = Reference.json("curves/" + name + ".json").get("least_squares");
    double[] x = column(rows, "x");
    TwoSegmentFit fit = TwoSegmentFit.of(x, column(rows, "y"), ones(x.length)).orElseThrow();
    DIGITS.agree(name + " break", expected.get("psi").asDouble(), fit.breakX(), tolerance);
    DIGITS.agree(name + " b0", expected.get("b0").asDouble(), fit.intercept(), tolerance);
    DIGITS.agree(
        name + " slope change",
        expected.get("slope_change").asDouble(),
        fit.slopeChange(),
        tolerance);
    if (expected.has("se")) {
      double[][] design = fit.linearised(x);
      LinearFit linear = LinearFit.of(design, column(rows, "y"), ones(x.length));
      double sd = Math.sqrt(fit.chiSquared() / fit.degreesOfFreedom());
      double norm = Math.sqrt(Arrays.stream(linear.estimator(3)).map(e -> e * e).sum());
      DIGITS.agree(name + " u(break)", expected.at("/se/psi").asDouble(), sd * norm, 1e-5);
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {1e-3, 1e-2})
  void theTrueCrossingOfASoftKnee(double criterion) {
    List<LoadPoint> points = new ArrayList<>();
    for (Map<String, String> row : Reference.rows("curves/knee_soft.csv")) {
      double v = Reference.number(row, "x");
      points.add(
          new LoadPoint(
              "v" + v,
              Estimate.exact(v),
              Estimate.exact(Reference.number(row, "y")),
              OptionalDouble.empty(),
              0,
              false,
              false));
    }
    double truth = 0;
    for (JsonNode row : Reference.json("curves/knee_soft.json").get("true")) {
      if (row.get("fraction").asDouble() == criterion) {
        truth = row.get("true_crossing_of_generating_curve").asDouble();
      }
    }
    LoadSweepRequest question =
        LoadSweepRequest.of("10", 10, 0.9545)
            .withCompliance(OptionalDouble.of(9), criterion, false);
    Result result =
        LoadResults.of(points, question).stream()
            .filter(r -> r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE)
            .findFirst()
            .orElseThrow();
    ComputationOutcome.Value found =
        assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
    ComputationOutcome.Uncertainty u = found.uncertainty().orElseThrow();
    assertTrue(u.lower() <= truth && truth <= u.upper(), truth + " is not within " + u);
    DIGITS.agree("knee_soft compliance at " + criterion, truth, found.value(), 0.01);
  }

  @Test
  void aWeightedLine() {
    JsonNode expected = Reference.json("curves/wls_line.json");
    weighted("wls_line", expected, 1);
  }

  @Test
  void aWeightedQuadratic() {
    weighted("wls_quadratic", Reference.json("curves/wls_quadratic.json"), 2);
  }

  private static void weighted(String name, JsonNode expected, int degree) {
    List<Map<String, String>> rows = Reference.rows("curves/" + name + ".csv");
    double[] x = column(rows, "x");
    double[] u = column(rows, "u");
    double[][] columns = new double[degree + 1][];
    for (int k = 0; k <= degree; k++) {
      int power = k;
      columns[k] = Arrays.stream(x).map(v -> Math.pow(v, power)).toArray();
    }
    LinearFit fit = LinearFit.of(columns, column(rows, "y"), u);
    for (int k = 0; k <= degree; k++) {
      DIGITS.agree(
          name + " coefficient", expected.at("/coef/" + k).asDouble(), fit.coefficient(k), 1e-9);
      double sum = 0;
      for (int i = 0; i < x.length; i++) {
        sum += Math.pow(fit.estimator(k)[i] * u[i], 2);
      }
      DIGITS.agree(name + " u", expected.at("/se_known_u/" + k).asDouble(), Math.sqrt(sum), 1e-9);
    }
    DIGITS.agree(name + " chi squared", expected.get("chi2").asDouble(), fit.chiSquared(), 1e-9);
  }
}
