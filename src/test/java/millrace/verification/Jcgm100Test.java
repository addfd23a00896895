// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.analysis.reduction.ReadingAccumulator;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.regression.LinearFitOfEstimates;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

/** JCGM 100:2008: annex G table 2, annex H examples 1, 2 and 3. */
class Jcgm100Test {
  private static final String GUM = "JCGM 100:2008";

  /** Data copied, or none needed, and computed anew with R. */
  private static final Digits DIGITS = Digits.of(Jcgm100Test.class, Origin.RECOMPUTED, GUM);

  /** Data recalled, whatever was computed from them. */
  private static final Digits RECALLED = Digits.of(Jcgm100Test.class, Origin.MEMORY, GUM);

  @Test
  void endGaugeOfH1() {
    Estimate length = Estimate.exact(0);
    for (Map<String, String> row : Reference.rows("gum/h1_budget.csv")) {
      double u = Reference.number(row, "standard_uncertainty");
      double sensitivity = Reference.number(row, "sensitivity_nm_per_unit");
      String nu = row.get("degrees_of_freedom");
      ErrorSource source =
          new ErrorSource(
              row.get("quantity"),
              ErrorSource.RUN,
              row.get("symbol"),
              ErrorDistribution.NORMAL,
              nu.isEmpty()
                  ? OptionalDouble.empty()
                  : OptionalDouble.of(Reference.number(row, "degrees_of_freedom")),
              u,
              row.get("unit"));
      length = length.with(source, sensitivity);
    }
    JsonNode expected = Reference.json("gum/h1_expected.json").get("recomputed");
    ComputationOutcome.Uncertainty u99 = Budget.of(length).uncertainty(0.99);
    double rounded = expected.get("uc_rounded_inputs").asDouble();
    RECALLED.agree("H.1 u", rounded, u99.standard(), 1e-9);
    RECALLED.agree(
        "H.1 degrees of freedom",
        expected.get("nu_eff_rounded_inputs").asDouble(),
        u99.degreesOfFreedom().orElseThrow(),
        1e-9);
    RECALLED.agree("H.1 k", expected.get("t99_16").asDouble(), u99.coverageFactor(), 1e-8);
    assertEquals(93, u99.expanded(), 1);
  }

  @Test
  void simultaneousResistanceAndReactanceOfH2() {
    List<Map<String, String>> rows = Reference.rows("gum/h2_data.csv");
    int n = rows.size();
    String[] columns = {"V", "I_A", "phi_rad"};
    double[] means = new double[3];
    for (Map<String, String> row : rows) {
      for (int k = 0; k < 3; k++) {
        means[k] += Reference.number(row, columns[k]) / n;
      }
    }
    Estimate[] inputs = new Estimate[3];
    for (int k = 0; k < 3; k++) {
      inputs[k] = Estimate.exact(means[k]);
      // The five observations are simultaneous: each is one error that all three means share.
      for (int i = 0; i < n; i++) {
        ErrorSource observation =
            ErrorSource.normal(
                "observation", ErrorSource.POINT, "o" + i, 1 / Math.sqrt(n * (n - 1)), "1");
        inputs[k] =
            inputs[k].with(observation, Reference.number(rows.get(i), columns[k]) - means[k]);
      }
    }
    double z = means[0] / means[1];
    double cos = Math.cos(means[2]);
    double sin = Math.sin(means[2]);
    List<Estimate> all = List.of(inputs);
    Estimate r =
        Estimate.function(
            z * cos, new double[] {cos / means[1], -z * cos / means[1], -z * sin}, all);
    Estimate x =
        Estimate.function(
            z * sin, new double[] {sin / means[1], -z * sin / means[1], z * cos}, all);
    Estimate m = inputs[0].over(inputs[1]);
    JsonNode expected = Reference.json("gum/h2_expected.json").get("recomputed");
    List<Estimate> results = List.of(r, x, m);
    for (int k = 0; k < 3; k++) {
      double y = expected.get("y").get(k).asDouble();
      double u = expected.get("u").get(k).asDouble();
      DIGITS.agree("H.2 value", y, results.get(k).value(), 1e-9);
      DIGITS.agree("H.2 u", u, results.get(k).standardUncertainty(), 1e-9);
    }
    DIGITS.agree("H.2 correlation", expected.get("r_RX").asDouble(), correlation(r, x), 1e-9);
    DIGITS.agree("H.2 correlation", expected.get("r_XZ").asDouble(), correlation(x, m), 1e-9);
  }

  private static double correlation(Estimate a, Estimate b) {
    return a.covariance(b) / (a.standardUncertainty() * b.standardUncertainty());
  }

  @Test
  void coverageFactorsOfTableG2() {
    Map<String, Double> columns =
        Map.of("p90", 0.90, "p95", 0.95, "p95.45", 0.954499736103642, "p99", 0.99);
    for (Map<String, String> row : Reference.rows("gum/g2_computed.csv")) {
      OptionalDouble nu =
          row.get("nu").toLowerCase(Locale.ROOT).startsWith("i")
              ? OptionalDouble.empty()
              : OptionalDouble.of(Reference.number(row, "nu"));
      columns.forEach(
          (name, p) ->
              DIGITS.agree(
                  "table G.2", Reference.number(row, name), CoverageFactors.factor(p, nu), 1e-6));
    }
  }

  @Test
  void thermometerOfH3() {
    List<Map<String, String>> rows = Reference.rows("gum/h3_data.csv");
    int n = rows.size();
    double[][] columns = new double[2][n];
    List<Estimate> corrections = new ArrayList<>();
    List<String> keys = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      columns[0][i] = 1;
      columns[1][i] = Reference.number(rows.get(i), "t") - 20;
      corrections.add(Estimate.exact(Reference.number(rows.get(i), "b")));
      keys.add("t" + i);
    }
    LinearFitOfEstimates fit = LinearFitOfEstimates.of(columns, corrections, keys, "degC");
    JsonNode expected = Reference.json("gum/h3_expected.json").get("recomputed");
    Estimate y1 = fit.coefficient(0);
    Estimate y2 = fit.coefficient(1);
    Estimate at30 = fit.combination(1, 10);
    DIGITS.agree("H.3 intercept", expected.get("y1").asDouble(), y1.value(), 1e-9);
    DIGITS.agree("H.3 slope", expected.get("y2").asDouble(), y2.value(), 1e-9);
    DIGITS.agree("H.3 u", expected.get("s_y1").asDouble(), y1.standardUncertainty(), 1e-9);
    DIGITS.agree("H.3 u", expected.get("s_y2").asDouble(), y2.standardUncertainty(), 1e-9);
    DIGITS.agree("H.3 correlation", expected.get("r").asDouble(), correlation(y1, y2), 1e-9);
    DIGITS.agree("H.3 b(30)", expected.get("b30").asDouble(), at30.value(), 1e-9);
    DIGITS.agree("H.3 u", expected.get("uc_b30").asDouble(), at30.standardUncertainty(), 1e-9);
    DIGITS.agree(
        "H.3 U95",
        expected.get("U95_b30").asDouble(),
        Budget.of(at30).uncertainty(0.95).expanded(),
        1e-8);
  }

  @Test
  void scatterBetweenAndWithinDaysOfH5() {
    List<Map<String, String>> rows = Reference.rows("gum/h5_data.csv");
    JsonNode expected = Reference.json("gum/h5_expected.json").get("recomputed");
    double each = 5;
    double within = 0;
    double[] means = new double[rows.size()];
    for (int i = 0; i < means.length; i++) {
      means[i] = Reference.number(rows.get(i), "mean_V");
      within += Math.pow(Reference.number(rows.get(i), "sd_uV") * 1e-6, 2) / means.length;
    }
    ReadingStatistics days = ReadingAccumulator.statisticsOf(means);
    double between = each * days.variance();
    RECALLED.agree("H.5 mean", expected.get("grand_mean_V").asDouble(), days.mean(), 1e-12);
    RECALLED.agree(
        "H.5 s of the means",
        expected.get("s_mean_uV").asDouble(),
        1e6 * Math.sqrt(days.variance()),
        1e-8);
    RECALLED.agree("H.5 F", expected.get("F").asDouble(), between / within, 1e-8);
    double u = Math.sqrt(days.variance() / means.length);
    RECALLED.agree(
        "H.5 u from between days", expected.get("u_between_uV").asDouble(), 1e6 * u, 1e-8);
    RECALLED.agree(
        "H.5 s between days",
        expected.get("s_B_uV").asDouble(),
        1e6 * Math.sqrt((between - within) / each),
        1e-8);
  }
}
