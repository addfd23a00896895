// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.exchange.InventedCurves.Fault;
import org.junit.jupiter.api.Test;

/**
 * Every budget has its model equation, and whoever puts the estimates into it finds the result: the
 * equations are worked out anew here.
 */
class StatedModelsTest extends Importing {
  /**
   * What estimates come to, by the quantity whose equation it is; ppm where the result has them.
   */
  private static final Map<String, Function<MeasurementModel, Double>> WORKED_OUT =
      Map.of(
          "tempco_cold",
          m -> 1e6 * (x(m, "I_T") - x(m, "I_ref")) / x(m, "I_ref") / (x(m, "T") - x(m, "T_r")),
          "tempco_hot",
          m -> 1e6 * (x(m, "I_T") - x(m, "I_ref")) / x(m, "I_ref") / (x(m, "T") - x(m, "T_r")),
          "tempco_box",
          m ->
              1e6
                  * (x(m, "I_max") - x(m, "I_min"))
                  / (x(m, "I_ref") * (x(m, "T_max") - x(m, "T_min"))),
          "output_resistance",
          m -> 1 / x(m, "G"),
          "load_regulation",
          m -> -1e6 * x(m, "G") / x(m, "I_N"),
          "turnover",
          m -> x(m, "T_ref") - x(m, "a") / (2 * x(m, "b")),
          "range_ratio_error",
          m -> 1e6 * (x(m, "I_a") / x(m, "I_b") / (x(m, "I_Na") / x(m, "I_Nb")) - 1),
          "current_error",
          m -> 1e6 * y(m),
          "current",
          m -> x(m, "I_N") * (1 + y(m)));

  private static List<Double> all(MeasurementModel model, String symbol) {
    return model.inputs().stream()
        .filter(i -> i.symbol().equals(symbol))
        .findFirst()
        .map(MeasurementModel.Input::estimates)
        .orElse(List.of(0.0));
  }

  private static double x(MeasurementModel model, String symbol) {
    List<Double> found = all(model, symbol);
    assertEquals(1, found.size(), symbol);
    return found.get(0);
  }

  /** The response of methods.md 11.1. */
  private static double y(MeasurementModel m) {
    double t = x(m, "T") - x(m, "T_ref");
    double v = x(m, "V");
    double x = v / x(m, "V_s");
    double doubled = Math.pow(2, t / x(m, "D")) - 1;
    double y = x(m, "c") + x(m, "a") * t - x(m, "G_0") * v;
    y += doubled * (x(m, "i_0") - x(m, "G_L") * v + x(m, "l_1") * v * x + x(m, "l_2") * v * x * x);
    for (int j = 2; j <= 4; j++) {
      y += x(m, "b_" + j) * Math.pow(t, j);
    }
    for (int k = 0; k <= 2; k++) {
      for (int j = 0; j <= 3; j++) {
        y += x(m, "g_" + k + j) * v * Math.pow(x, k) * Math.pow(t, j);
      }
    }
    return y + x(m, "e") * x(m, "h");
  }

  private List<Result> results() throws IOException {
    String csv =
        InventedCurves.head()
            + new InventedCurves(Fault.NONE, 3).rows("UNIT-3", 23, 5, 14, 34, 45, 23);
    return Assessor.assess(logbook.reader(imports(csv).get(0).run())).results();
  }

  @Test
  void everyBudgetHasItsModelEquationAndEstimates() throws IOException {
    List<Result> budgeted = results().stream().filter(r -> !r.budget().isEmpty()).toList();
    assertTrue(budgeted.size() > 20, budgeted.toString());
    for (Result r : budgeted) {
      MeasurementModel model = r.model().orElseThrow(() -> new AssertionError(r.toString()));
      assertFalse(model.inputs().isEmpty(), r.toString());
    }
  }

  @Test
  void theEstimatesPutIntoTheEquationGiveTheResult() throws IOException {
    List<String> tried =
        results().stream()
            .filter(r -> r.model().isPresent() && WORKED_OUT.containsKey(r.quantity().key()))
            .map(StatedModelsTest::held)
            .distinct()
            .toList();
    assertTrue(tried.contains("current") && tried.contains("tempco_cold"), tried.toString());
    assertTrue(tried.size() >= 6, tried.toString());
  }

  private static String held(Result r) {
    String key = r.quantity().key();
    double value = ((ComputationOutcome.Value) r.outcome()).value();
    double worked = WORKED_OUT.get(key).apply(r.model().orElseThrow());
    // Coefficients are means over the weights of s_v, and y is bent in D: to 0.01 ppm.
    double tolerance = key.equals("current") ? 1e-8 * Math.abs(value) : 1e-6 * Math.abs(value);
    tolerance = key.equals("current_error") ? 0.01 : tolerance;
    assertEquals(value, worked, tolerance, r.toString());
    return key;
  }
}
