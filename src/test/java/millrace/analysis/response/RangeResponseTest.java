// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.response.ResponsePrediction.Basis;
import millrace.analysis.uncertainty.Estimate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RangeResponseTest {
  private static final double[] FIVE = {23, 10, 30, 40, 50, 23};
  private static final double[] VOLTS = {0, 2, 4, 6, 8, 10};

  private static ResponsePrediction.Value at(RangeResponse response, double degC, double volts) {
    return response.at(PredictionCondition.atVoltage(degC, volts)).value().orElseThrow();
  }

  @ParameterizedTest
  @CsvSource({"23, 0", "35, 5", "50, 10", "12.5, 7.3"})
  void comesBackToAParabola(double degC, double volts) {
    RangeResponse response = Flat.response(Flat.range("r", 0.05, FIVE, VOLTS));
    ResponsePrediction.Value value = at(response, degC, volts);
    assertEquals(Flat.ppm(degC, volts, 0.05), value.errorPpm().value(), 0.01);
    assertEquals(
        Flat.NOMINAL_A * (1 + value.errorPpm().value() * 1e-6), value.currentA().value(), 1e-15);
    assertTrue(value.errorPpm().standardUncertainty() < 10.5, "gain and little else");
  }

  /** methods.md 11.3: within 0.5 K of a visit, else predicted. */
  @ParameterizedTest
  @CsvSource({"30.4, MEASURED", "31, PREDICTED", "45, PREDICTED"})
  void saysWhatAValueRestsOn(double degC, Basis basis) {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    assertEquals(basis, at(response, degC, 5).basis());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "55 | 5 | measure at 55 degC",
        "8.9 | 5 | measure at 8.9 degC",
        "23 | 12 | measure at 12 V",
        "60 | 12 | measure at 60 degC; measure at 12 V"
      })
  void namesWhatWouldHaveToBeMeasured(double degC, double volts, String wanting) {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    ResponsePrediction prediction = response.at(PredictionCondition.atVoltage(degC, volts));
    assertTrue(prediction.value().isEmpty());
    assertEquals(
        wanting, String.join("; ", response.wanting(PredictionCondition.atVoltage(degC, volts))));
    assertTrue(prediction.missing().orElseThrow().endsWith(wanting), prediction.toString());
  }

  /** methods.md 11.4: 1 K, and 2 % of the voltage. */
  @Test
  void hasASlackOfAKelvinAndTwoPercent() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    assertTrue(response.at(PredictionCondition.atVoltage(50.99, 10.19)).value().isPresent());
    assertTrue(response.at(PredictionCondition.atVoltage(51.01, 10)).value().isEmpty());
    assertTrue(response.at(PredictionCondition.atVoltage(23, 10.21)).value().isEmpty());
  }

  /** U carries the model's freedom: it grows, and the value is marked. */
  @Test
  void extrapolatesOnlyWhenAsked() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    ResponsePrediction.Value inside = at(response, 50, 5);
    ResponsePrediction.Value far =
        response.extrapolated(PredictionCondition.atVoltage(80, 5)).value().orElseThrow();
    assertTrue(far.extrapolated());
    assertFalse(inside.extrapolated());
    double gain = 10;
    double own = far.errorPpm().standardUncertainty();
    double here = inside.errorPpm().standardUncertainty();
    double grown = Math.sqrt(own * own - gain * gain) / Math.sqrt(here * here - gain * gain);
    assertTrue(grown > 10, far + " against " + inside);
  }

  /** Past the knee no term of the model tells the current, not even when asked. */
  @Test
  void neverExtrapolatesPastTheKnee() {
    RangeMeasurements data = Flat.range("r", 0, FIVE, VOLTS);
    RangeMeasurements kneed =
        new RangeMeasurements(
            "r",
            data.nominalA(),
            data.points(),
            Map.of(
                0,
                new RangeMeasurements.Edge(8.5, 8, true),
                4,
                new RangeMeasurements.Edge(6.5, 6, true)),
            true);
    RangeResponse response = Flat.response(kneed);
    PredictionCondition past = PredictionCondition.atVoltage(50, 8);
    assertTrue(response.extrapolated(past).value().isEmpty());
    assertEquals(
        List.of("keep below 6.5 V at 50 degC, where the current falls away"),
        response.wanting(past));
    // linear between 8.5 V at 23 degC and 6.5 V at 50 degC
    assertEquals(7.5, response.domain().edgeV(36.5), 1e-9);
  }

  /** methods.md 11.3: 60 ppm per K, and no value farther than 1 K. */
  @Test
  void knowsOneTemperatureForAKelvin() {
    RangeResponse response = Flat.response(Flat.range("r", 0, new double[] {23}, VOLTS));
    double here = at(response, 23, 5).errorPpm().standardUncertainty();
    double near = at(response, 24, 5).errorPpm().standardUncertainty();
    assertEquals(60, 2 * Math.sqrt(near * near - here * here), 0.5);
    assertEquals(Basis.BY_ASSUMPTION, at(response, 24, 5).basis());
    assertTrue(response.at(PredictionCondition.atVoltage(24.1, 5)).value().isEmpty());
    assertTrue(response.notes().contains("scatter between visits unknown: one visit"));
  }

  /** methods.md 11.3: about 2 s_b |(T - T1)(T - T2)|; 11.2: visits not repeated, 2 ppm. */
  @Test
  void assumesTheCurvatureBetweenTwoTemperatures() {
    RangeMeasurements data = Flat.range("r", 0, new double[] {10, 50}, VOLTS);
    RangeResponse response = Flat.response(data);
    ResponsePrediction.Value value = at(response, 30, 0);
    double gain = 10 * (1 + 100e-6);
    double u = value.errorPpm().standardUncertainty();
    double own = Math.sqrt(u * u - gain * gain);
    double sb = Math.hypot(0.03, 2.0 / 200); // ppm/K^2
    assertEquals(sb * 20 * 20, own, 0.15 * sb * 20 * 20);
    assertTrue(response.notes().contains("visits not repeated: how much they scatter is assumed"));
    double atVisit = at(response, 10, 0).errorPpm().standardUncertainty();
    assertTrue(2 * Math.sqrt(atVisit * atVisit - gain * gain) > 1.8, "" + atVisit);
  }

  /** What ranges share cancels in their ratio. */
  @Test
  void carriesTheCovarianceOfRanges() {
    UnitResponse unit =
        UnitResponse.of(
            List.of(Flat.range("a", 0, FIVE, VOLTS), Flat.range("b", 0, FIVE, VOLTS)),
            new ResponseSettings(23, Map.of(), Map.of()));
    Estimate a = at(unit.range("a").orElseThrow(), 35, 5).errorPpm();
    Estimate b = at(unit.range("b").orElseThrow(), 35, 5).errorPpm();
    assertTrue(a.standardUncertainty() > 9.9);
    assertTrue(a.minus(b).standardUncertainty() < 0.5, a.minus(b).toString());
  }

  /** The quick form and the one with every error by its name are one. */
  @Test
  void givesOneUncertaintyBothWays() {
    SplittableRandom chance = new SplittableRandom(4);
    for (int i = 0; i < 5; i++) {
      TrueCurve unit = TrueCurve.random(chance);
      Night night = new Night(FIVE, 0.1, 2, 1, 0.3, 0.2);
      RangeResponse response = Flat.response(night.of("r", unit, chance));
      for (double degC : new double[] {10, 17, 23, 44}) {
        double volts = 0.7 * response.domain().edgeV(degC);
        Estimate whole = at(response, degC, volts).errorPpm();
        double[] quick = response.errorAndUPpm(degC, volts);
        assertEquals(whole.value(), quick[0], 1e-9 * Math.abs(whole.value()) + 1e-9);
        assertEquals(whole.standardUncertainty(), quick[1], 1e-5 * quick[1]);
      }
    }
  }

  /** Same points, other order: the same answer but for arithmetic. */
  @Test
  void doesNotDependOnTheOrderOfPoints() {
    RangeMeasurements data =
        new Night(FIVE, 0.1, 2, 1, 0.3, 0.2)
            .of("r", TrueCurve.random(new SplittableRandom(1)), new SplittableRandom(2));
    List<ResponsePoint> shuffled = new ArrayList<>(data.points());
    Collections.reverse(shuffled);
    RangeMeasurements other =
        new RangeMeasurements("r", data.nominalA(), shuffled, data.edges(), true);
    double[] one = Flat.response(data).errorAndUPpm(33, 3);
    double[] two = Flat.response(other).errorAndUPpm(33, 3);
    assertEquals(one[0], two[0], 1e-5);
    assertEquals(one[1], two[1], 1e-5);
  }

  @Test
  void solvesForTheVoltageOfALoad() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    ResponsePrediction.Value value =
        response.at(PredictionCondition.atLoad(23, 5000)).value().orElseThrow();
    assertEquals(value.currentA().value() * 5000, value.voltageV(), 1e-9);
    assertEquals(Flat.ppm(23, value.voltageV(), 0), value.errorPpm().value(), 0.01);
  }

  /** One voltage: no term in V, and no value at another (methods.md 11.1). */
  @Test
  void saysNothingOfAVoltageThatWasNeverUsed() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, 5));
    assertEquals(Flat.ppm(33, 5, 0), at(response, 33, 5).errorPpm().value(), 0.05);
    assertEquals(List.of("measure at 2 V"), response.wanting(PredictionCondition.atVoltage(33, 2)));
    assertTrue(response.extrapolated(PredictionCondition.atVoltage(33, 2)).value().isEmpty());
  }

  /** A supply voltage that was neither set nor read does not count as met. */
  @Test
  void saysNothingOfASupplyThatWasNotRead() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    PredictionCondition supplied =
        PredictionCondition.atVoltage(23, 5).withSupply(OptionalDouble.of(90));
    assertEquals(List.of("measure with a supply of 90 V"), response.wanting(supplied));
    assertTrue(response.extrapolated(supplied).value().isEmpty());
  }

  @Test
  void refusesAnOrderOfPointsThatTellsNoSlope() {
    RangeMeasurements cold = Flat.range("r", 0, new double[] {10}, 0);
    RangeMeasurements hot = Flat.range("r", 0, new double[] {40}, 8);
    List<ResponsePoint> both = new ArrayList<>(cold.points());
    hot.points().stream()
        .map(
            p ->
                new ResponsePoint(
                    "hot",
                    1,
                    p.timeS(),
                    p.currentA(),
                    p.voltageV(),
                    p.temperatureDegC(),
                    p.supplyV()))
        .forEach(both::add);
    UnitResponse unit =
        UnitResponse.of(
            List.of(new RangeMeasurements("r", Flat.NOMINAL_A, both, Map.of(), true)),
            new ResponseSettings(23, Map.of(), Map.of()));
    assertTrue(unit.range("r").isEmpty());
    assertEquals(
        "its points do not tell the slope over voltage from that over temperature: measure two"
            + " loads at one temperature",
        unit.whyNot("r").orElseThrow());
    assertEquals("range x was not measured", unit.whyNot("x").orElseThrow());
  }

  /** Where no reading states anything, the scatter about the lines of the visits stands in. */
  @Test
  void takesTheScatterWhereNoUncertaintyIsKnown() {
    SplittableRandom chance = new SplittableRandom(9);
    List<ResponsePoint> bare = new ArrayList<>();
    for (ResponsePoint p : Flat.range("r", 0, FIVE, VOLTS).points()) {
      double noisy = p.currentA().value() + 1e-9 * chance.nextGaussian();
      bare.add(
          new ResponsePoint(
              p.key(),
              p.visit(),
              p.timeS(),
              Estimate.exact(noisy),
              p.voltageV(),
              p.temperatureDegC(),
              p.supplyV()));
    }
    RangeResponse response =
        Flat.response(new RangeMeasurements("r", Flat.NOMINAL_A, bare, Map.of(), true));
    double u = at(response, 30, 5).errorPpm().standardUncertainty();
    assertTrue(u > 0.1 && u < 1.5, "noise is 1 ppm a point: " + u);
  }

  /** A thousand points are taken together, and say the same. */
  @Test
  void takesPointsOfALongRunTogether() {
    double[] many = new double[200];
    for (int i = 0; i < many.length; i++) {
      many[i] = i * 0.05;
    }
    RangeResponse response = Flat.response(Flat.range("r", 0.05, FIVE, many));
    assertTrue(response.n() <= 420, "" + response.n());
    ResponsePrediction.Value value = at(response, 35, 5);
    assertEquals(Flat.ppm(35, 5, 0.05), value.errorPpm().value(), 0.02);
  }
}
