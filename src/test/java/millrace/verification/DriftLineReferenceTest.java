// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import millrace.analysis.Reference;
import millrace.analysis.ageing.DriftLine;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import org.junit.jupiter.api.Test;

/** The line of a long-term drift against NIST StRD, and against R. */
class DriftLineReferenceTest {
  private static Estimate visit(double value, double u, int i) {
    return Estimate.exact(value)
        .with(ErrorSource.normal("own", ErrorSource.POINT, "visit " + i, u, "ppm"), 1);
  }

  private static Estimate shared(Estimate of, String group, String instance, double u) {
    return of.with(ErrorSource.normal("meter gain", group, instance, 1, "ppm"), u);
  }

  private static double[] column(List<Map<String, String>> rows, String name) {
    return rows.stream().mapToDouble(r -> Reference.number(r, name)).toArray();
  }

  /**
   * NIST StRD, Norris: with each visit's own error the certified residual standard deviation, the
   * standard deviation of the slope is the certified one.
   */
  @Test
  void theSlopeOfNorris() {
    List<Map<String, String>> rows = Reference.rows("strd/linear/Norris.csv");
    JsonNode certified = Reference.json("strd/linear/Norris.json").get("certified");
    double sd = certified.get("residual_sd").asDouble();
    double[] y = column(rows, "y");
    List<Estimate> visits = new ArrayList<>();
    for (int i = 0; i < y.length; i++) {
      visits.add(visit(y[i], sd, i));
    }
    DriftLine line = DriftLine.of(column(rows, "x"), visits);
    JsonNode slope = certified.get("coefficients").get("B1");
    JsonNode level = certified.get("coefficients").get("B0");
    assertEquals(slope.get("estimate").asDouble(), line.slopePerDay().value(), 1e-11);
    assertEquals(slope.get("sd").asDouble(), line.slopePerDay().standardUncertainty(), 1e-11);
    assertEquals(level.get("estimate").asDouble(), line.at(0).value(), 1e-9);
    assertEquals(level.get("sd").asDouble(), line.at(0).standardUncertainty(), 1e-9);
    assertEquals(1, line.birge(), 1e-12);
  }

  /**
   * R 4.2.2: lm(y ~ x, weights = 1/u^2). Its scatter exceeds its bound, so that the uncertainties
   * are R's scaled ones, and a later day also has the wander s^2 = (B^2 - 1) mean(u^2).
   */
  @Test
  void aLineWhoseScatterExceedsItsUncertainties() {
    List<Map<String, String>> rows = Reference.rows("curves/wls_line.csv");
    JsonNode expected = Reference.json("curves/wls_line.json");
    double[] y = column(rows, "y");
    double[] u = column(rows, "u");
    List<Estimate> visits = new ArrayList<>();
    for (int i = 0; i < y.length; i++) {
      visits.add(visit(y[i], u[i], i));
    }
    DriftLine line = DriftLine.of(column(rows, "x"), visits);
    double birge = expected.get("sigma").asDouble();
    assertEquals(birge, line.birge(), 1e-9);
    assertEquals(expected.at("/coef/1").asDouble(), line.slopePerDay().value(), 1e-9);
    double scaled = expected.at("/se_scaled/1").asDouble();
    assertEquals(scaled, line.slopePerDay().standardUncertainty(), 1e-9 * scaled);
    double wander = (birge * birge - 1) * Arrays.stream(u).map(x -> x * x).average().orElseThrow();
    for (int i = 0; i < 3; i++) {
      double x = expected.at("/prediction/x/" + i).asDouble();
      double se = expected.at("/prediction/se_scaled/" + i).asDouble();
      assertEquals(expected.at("/prediction/y/" + i).asDouble(), line.at(x).value(), 1e-8);
      assertEquals(Math.sqrt(se * se + wander), line.at(x).standardUncertainty(), 1e-8);
    }
  }

  /**
   * R 4.2.2: visits 1 to 3 share an error of 4, visits 4 and 5 one of 5, all share one of 2:
   * solve(t(X) %*% solve(V) %*% X).
   */
  @Test
  void visitsWithTwoCertificates() {
    double[] days = {0, 120, 240, 400, 520};
    double[] y = {10, 14, 17, 31, 35};
    double[] own = {1, 1.5, 1, 2, 1};
    List<Estimate> visits = new ArrayList<>();
    for (int i = 0; i < y.length; i++) {
      Estimate one = shared(visit(y[i], own[i], i), "unit", "unit", 2);
      visits.add(
          i < 3
              ? shared(one, DriftLine.PERHAPS_SHARED, "first certificate", 4)
              : shared(one, DriftLine.PERHAPS_SHARED, "second certificate", 5));
    }
    DriftLine line = DriftLine.of(days, visits);
    assertEquals(0.0319613186294281, line.slopePerDay().value(), 1e-12);
    assertEquals(Math.sqrt(2.85474318993419e-05), line.slopePerDay().standardUncertainty(), 1e-12);
    assertEquals(1, line.birge(), 1e-12);
    assertEquals(35.46853449547977, line.at(700).value(), 1e-10);
    // If both certificates err the same way, their parts 2.004 and 2.495 add.
    double together = Math.hypot(4.40485394659331, 3.16227230922601);
    assertEquals(together, line.at(700).standardUncertainty(), 1e-9);
  }

  /** By hand: what all visits share leaves the slope alone and stays whole in the level. */
  @Test
  void whatAllVisitsShareCancelsInTheSlopeAlone() {
    double[] days = {0, 100, 200};
    List<Estimate> visits = new ArrayList<>();
    for (int i = 0; i < days.length; i++) {
      visits.add(shared(visit(3 * i, 0.3, i), DriftLine.PERHAPS_SHARED, "the certificate", 12));
    }
    DriftLine line = DriftLine.of(days, visits);
    assertEquals(0.03, line.slopePerDay().value(), 1e-12);
    assertEquals(0.3 / Math.sqrt(20000), line.slopePerDay().standardUncertainty(), 1e-9);
    assertEquals(Math.hypot(12, 0.3 / Math.sqrt(3)), line.at(100).standardUncertainty(), 1e-9);
    assertTrue(line.at(1000).standardUncertainty() > 12);
  }
}
