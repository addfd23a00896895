// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.Reference;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Synthetic laps of temperature with curvature and hysteresis, computed with R (tempco.R). */
class TemperatureLapsTest {
  private static final double TOLERANCE = 1e-6;

  private static List<Result> results(String range) {
    return TemperatureResults.of(study(range), range, 0.95, List.of());
  }

  /** All times are equal, as the laps state none: no drift is fitted, as in the reference. */
  private static TemperatureStudy study(String range) {
    List<TemperaturePoint> points = new ArrayList<>();
    for (Map<String, String> row : Reference.rows("tempco/" + range + ".csv")) {
      points.add(
          new TemperaturePoint(
              points.size(),
              Reference.number(row, "T_nominal"),
              Estimate.exact(Reference.number(row, "T")),
              Estimate.exact(Reference.number(row, "I")),
              0));
    }
    return TemperatureStudy.of(points, 23);
  }

  private static ComputationOutcome.Value value(List<Result> results, ResultQuantity quantity) {
    return (ComputationOutcome.Value)
        results.stream().filter(r -> r.quantity() == quantity).findFirst().orElseThrow().outcome();
  }

  @ParameterizedTest
  @ValueSource(strings = {"r10uA", "r100uA", "r1mA", "r10mA"})
  void slopeBoxQuadraticAndEndPointsAgree(String range) {
    JsonNode expected = Reference.json("tempco/" + range + ".json");
    Digits digits =
        Digits.of(TemperatureLapsTest.class, Origin.RECOMPUTED, "temperature laps computed with R");
    List<Result> found = results(range);
    ComputationOutcome.Value slope = value(found, ResultQuantity.TEMPCO);
    JsonNode line = expected.get("slope");
    digits.agree("slope", line.get("tc").asDouble(), slope.value(), TOLERANCE);
    // R's standard error counts the curve of the lap as noise: it is no error of this slope.
    assertEquals(Optional.empty(), slope.uncertainty());
    digits.agree("box", expected.get("box").asDouble(), box(found), TOLERANCE);
    JsonNode curve = expected.get("quadratic");
    ComputationOutcome.Value b = value(found, ResultQuantity.TEMPCO_QUADRATIC_B);
    digits.agree("quadratic a", curve.get("alpha").asDouble(), a(found), TOLERANCE);
    digits.agree("quadratic b", curve.get("beta").asDouble(), b.value(), TOLERANCE);
    digits.agree(
        "u of quadratic b",
        curve.get("se").get(2).asDouble(),
        b.uncertainty().orElseThrow().standard(),
        TOLERANCE);
    digits.agree(
        "cold", expected.get("cold").asDouble(), end(found, ResultQuantity.TEMPCO_COLD), TOLERANCE);
    digits.agree(
        "hot", expected.get("hot").asDouble(), end(found, ResultQuantity.TEMPCO_HOT), TOLERANCE);
  }

  private static double box(List<Result> found) {
    return value(found, ResultQuantity.TEMPCO_BOX).value();
  }

  private static double a(List<Result> found) {
    return value(found, ResultQuantity.TEMPCO_QUADRATIC_A).value();
  }

  private static double end(List<Result> found, ResultQuantity quantity) {
    return value(found, quantity).value();
  }

  @ParameterizedTest
  @ValueSource(strings = {"r10uA", "r100uA", "r1mA", "r10mA"})
  void theQuadraticPredictsAndTurnsWhereItShould(String range) {
    JsonNode curve = Reference.json("tempco/" + range + ".json").get("quadratic");
    Digits digits =
        Digits.of(TemperatureLapsTest.class, Origin.RECOMPUTED, "temperature laps computed with R");
    TemperatureStudy study = study(range);
    for (JsonNode predicted : curve.get("predict")) {
      double found = study.quadratic().orElseThrow().at(predicted.get("T").asDouble() - 23).value();
      digits.agree("fitted ppm", predicted.get("ppm").asDouble(), found, TOLERANCE);
    }
    double turn = curve.get("turning_point_T").asDouble();
    if (turn > 4.99 && turn < 50.01) {
      ComputationOutcome.Value found = value(results(range), ResultQuantity.TURNOVER);
      digits.agree("turnover", turn, found.value(), TOLERANCE);
    }
  }

  /** The laps give up minus down: at 15 degC down came first, at 23 and 35 degC up did. */
  @ParameterizedTest
  @ValueSource(strings = {"r10uA", "r100uA", "r1mA", "r10mA"})
  void hysteresisAgreesWithItsSignTurnedWhereUpCameFirst(String range) {
    JsonNode expected = Reference.json("tempco/" + range + ".json").get("hysteresis");
    Digits digits =
        Digits.of(TemperatureLapsTest.class, Origin.RECOMPUTED, "temperature laps computed with R");
    List<Result> found =
        results(range).stream()
            .filter(r -> r.quantity() == ResultQuantity.THERMAL_HYSTERESIS)
            .toList();
    assertEquals(5, found.size());
    for (Result r : found) {
      double at = r.at().number(ResultConditionKey.TEMPERATURE_DEGC).orElse(23);
      String excursion = r.at().words().get(ResultConditionKey.EXCURSION);
      double value = ((ComputationOutcome.Value) r.outcome()).value();
      if (at != 23) {
        double sign = at == 15 ? 1 : -1;
        String name = "at_" + Math.round(at);
        digits.agree("hysteresis", sign * expected.get(name).asDouble(), value, TOLERANCE);
      } else if (excursion.equals("hot")) {
        digits.agree("hysteresis", -expected.get("at_23").asDouble(), value, TOLERANCE);
      }
    }
  }
}
