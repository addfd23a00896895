// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import static millrace.NotEmpty.notEmpty;
import static millrace.analysis.design.Designs.alone;
import static millrace.analysis.design.Designs.bare;
import static millrace.analysis.design.Designs.circuit;
import static millrace.analysis.design.Designs.full;
import static millrace.analysis.design.Designs.inNetwork;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import millrace.analysis.design.DesignDeviation.Kind;
import millrace.analysis.design.DesignForecast.Spread;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Holds predictions against hand calculations. */
class DesignPredictionTest {
  private static final double[] NONE = new double[40];

  private static DesignPrediction predict(DesignCircuit circuit) {
    return DesignPrediction.of(circuit, 0.9545, 5000, new Seeds(7));
  }

  private static Spread spread(DesignCircuit circuit, ResultQuantity quantity, int range) {
    return predict(circuit).ranges().stream()
        .filter(f -> f.quantity() == quantity)
        .skip(range)
        .findFirst()
        .flatMap(DesignForecast::spread)
        .orElseThrow();
  }

  /** Common practice, no source. */
  private static double shareOf(Spread spread, String part) {
    return spread.shares().stream()
        .filter(s -> s.part().equals(part))
        .mapToDouble(DeviationContribution::share)
        .sum();
  }

  @Test
  void fiveVoltsOverFiveKilohmAreOneMilliampere() {
    assertEquals(
        1e-3,
        spread(circuit(bare("1mA", 5, alone("R1", 5e3))), ResultQuantity.CURRENT, 0).nominal(),
        1e-15);
  }

  /** Common practice, no source. */
  @Test
  void tenTimesTheResistanceIsATenthOfTheCurrent() {
    DesignCircuit circuit =
        circuit(bare("a", 5, alone("R1", 5e3)), bare("b", 5, alone("R2", 50e3)));
    assertEquals(
        spread(circuit, ResultQuantity.CURRENT, 0).nominal() / 10,
        spread(circuit, ResultQuantity.CURRENT, 1).nominal(),
        1e-16);
  }

  /** Common practice, no source: about 1 % of the current goes into the base at a beta of 100. */
  @Test
  void aBipolarDeviceOfBetaHundredTakesOnePercentAndAnInsulatedGateNothing() {
    DesignCircuit bipolar = circuit(full("1mA", 5, alone("R1", 5e3), Designs.BIPOLAR));
    DesignCircuit gate = circuit(full("1mA", 5, alone("R1", 5e3), Designs.GATE));
    double base = spread(bipolar, ResultQuantity.CURRENT_ERROR, 0).nominal();
    double none = spread(gate, ResultQuantity.CURRENT_ERROR, 0).nominal();
    assertEquals(-1e6 / 101, base - none, 600); // beta rises with the voltage across the device
    assertEquals(-1, none, 1e-6); // 1/gain
  }

  private static RangeDesign with(
      RangeDesign like,
      Optional<DesignPart.PassDevice> passDevice,
      List<DesignPart.SeriesDrop> series,
      Optional<DesignPart.Leakage> leakage) {
    return new RangeDesign(
        like.name(),
        like.nominalA(),
        like.loadOhm(),
        like.setVoltageV(),
        like.reference(),
        like.resistor(),
        like.amplifier(),
        passDevice,
        series,
        leakage,
        like.supply(),
        Optional.empty(),
        List.of());
  }

  /** Common practice, no source: what is in series drops voltage and takes no current. */
  @Test
  void aSeriesDropCostsHeadroomAndNoCurrent() {
    RangeDesign one = full("1mA", 5, alone("R1", 5e3), Designs.GATE);
    List<DesignPart.SeriesDrop> series = List.of(Designs.D1, new DesignPart.SeriesDrop("D2", 0.4));
    RangeDesign two = with(one, one.passDevice(), series, one.leakage());
    assertEquals(
        spread(circuit(one), ResultQuantity.CURRENT, 0).nominal(),
        spread(circuit(two), ResultQuantity.CURRENT, 0).nominal());
    assertEquals(
        15 - 5 - 0.6 - 0.4 - 0.6, // of the pass device itself
        spread(circuit(two), ResultQuantity.COMPLIANCE_VOLTAGE, 0).nominal(),
        1e-12);
  }

  /** Common practice, no source: on one substrate a ratio hardly drifts. */
  @Test
  void withinANetworkOnlyTrackingEntersARatio() {
    DesignCircuit circuit =
        circuit(bare("a", 5, inNetwork("R1", 5e3)), bare("b", 5, inNetwork("R2", 50e3)));
    List<DesignForecast> ratios = predict(circuit).ratios();
    Spread error = ratios.get(0).spread().orElseThrow();
    Spread tracking = ratios.get(1).spread().orElseThrow();
    assertEquals(100, error.highest(), 0.1);
    assertEquals(1, tracking.highest(), 1e-3);
    assertEquals(0, shareOf(error, "N1") + shareOf(error, "REF"));
    assertEquals(1, shareOf(error, "R1") + shareOf(error, "R2"), 1e-12);
  }

  @Test
  void apartTheWholeToleranceEntersARatio() {
    DesignCircuit circuit =
        circuit(bare("a", 5, alone("R1", 5e3)), bare("b", 5, alone("R2", 50e3)));
    assertEquals(1000, predict(circuit).ratios().get(0).spread().orElseThrow().highest(), 2);
  }

  @Test
  void theWorstCaseOfANetworkIsTheAbsoluteTolerance() {
    DesignCircuit circuit = circuit(bare("a", 5, inNetwork("R1", 5e3)));
    assertEquals(
        ((1 + 500e-6) / (1 - 500e-6) - 1) * 1e6,
        spread(circuit, ResultQuantity.CURRENT_ERROR, 0).highest(),
        1e-6);
  }

  @Test
  void theRootSumSquareAddsReferenceAndResistorInQuadrature() {
    Spread error = spread(circuit(bare("a", 5, alone("R1", 5e3))), ResultQuantity.CURRENT_ERROR, 0);
    assertEquals(500 * Math.sqrt(2), error.rootSumSquare(), 0.01);
    assertEquals(0.5, shareOf(error, "REF"), 1e-5);
  }

  /** Two rectangular errors of half-width a: standard deviation a sqrt(2/3) (JCGM 101, 9.2.3). */
  @Test
  void drawnUnitsScatterAsTheTolerancesSay() {
    Spread error = spread(circuit(bare("a", 5, alone("R1", 5e3))), ResultQuantity.CURRENT_ERROR, 0);
    assertEquals(500 * Math.sqrt(2.0 / 3), error.standardDeviation(), 10);
    // triangular: the interval of 95.45 % ends at 2a (1 - sqrt(1 - p))
    assertEquals(1000 * (1 - Math.sqrt(1 - 0.9545)), error.upper(), 20);
  }

  @Test
  void aStatedCurvatureIsThatOfTheCurrentAndOneThatIsNotStatedFollowsTheTempco() {
    DesignPart.Reference curved =
        new DesignPart.Reference("REF", 500e-6, 3e-6, Optional.of(0.2e-6));
    RangeDesign bare = bare("a", 5, alone("R1", 5e3));
    RangeDesign range =
        new RangeDesign(
            "a",
            1e-3,
            0,
            5,
            curved,
            bare.resistor(),
            Optional.empty(),
            Optional.empty(),
            List.of(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            List.of());
    Spread b = spread(circuit(range), ResultQuantity.TEMPCO_QUADRATIC_B, 0);
    // ppm/K2: of the reference as stated, of the resistor sqrt(3) hypot(0.03, 10/200)
    double resistor = Math.sqrt(3) * Math.hypot(0.03, 0.05);
    assertEquals(Math.hypot(0.2, resistor), b.rootSumSquare(), 2e-3);
    assertEquals(0, b.nominal(), 1e-9);
    assertEquals(0.2 + resistor, b.highest(), 2e-2);
  }

  @Test
  void theOffsetWeighsTenTimesMoreAtATenthOfTheSetVoltage() {
    DesignCircuit circuit =
        circuit(
            full("a", 4, alone("R1", 4e3), Designs.GATE),
            full("b", 0.4, alone("R2", 4e3), Designs.GATE));
    assertEquals(10 * offset(circuit, 0), offset(circuit, 1), 1e-6);
    assertEquals(30e-6 / 4 * 1e6, offset(circuit, 0), 1e-5);
  }

  private static double offset(DesignCircuit circuit, int range) {
    return spread(circuit, ResultQuantity.CURRENT_ERROR, range).shares().stream()
        .filter(s -> s.kind() == Kind.OFFSET)
        .findFirst()
        .orElseThrow()
        .effect();
  }

  @Test
  void theTempcoIsThatOfReferenceLessThatOfResistorAndTheLeakageDoublesInTenKelvin() {
    DesignCircuit circuit = circuit(full("1mA", 5, alone("R1", 5e3), Designs.GATE));
    RangeCircuitModel range = circuit.ranges().get(0);
    double leak23 = range.currentA(0, 23, NONE) - range.currentA(8, 23, NONE);
    double leak33 = range.currentA(0, 33, NONE) - range.currentA(8, 33, NONE);
    double byGain = 8e-6 / 40 / 5e3; // an insulated gate of gain 40 follows for the amplifier
    assertEquals(8 / 200e9, leak23 - byGain, 1e-16);
    assertEquals(2 * 8 / 200e9, leak33 - byGain, 1e-16);
    Spread tempco = spread(circuit, ResultQuantity.TEMPCO, 0);
    assertEquals(3 + 10 + 0.3 / 5, tempco.highest(), 0.01);
  }

  @Test
  void whatThePartsDoNotTellIsMissingWithAReason() {
    List<DesignForecast> forecasts = predict(circuit(bare("a", 5, alone("R1", 5e3)))).ranges();
    assertEquals(
        Optional.of("no supply among its parts: the parts give no headroom"),
        forecasts.get(5).missing());
    assertTrue(forecasts.get(4).missing().orElseThrow().contains("no output resistance"));
  }

  @Test
  void theOutputResistanceIsTheLeakageInParallelWithTheLoopsOwn() {
    DesignCircuit circuit = circuit(full("1uA", 5, alone("R1", 5e6), Designs.GATE));
    double parallel = 1 / (1 / 200e9 + 1 / (5e6 * 1e6 * 40));
    assertEquals(
        parallel, spread(circuit, ResultQuantity.OUTPUT_RESISTANCE, 0).nominal(), 1e-4 * parallel);
  }

  /** An amplifier alone moves its output by all that the terminals move: R_out = A R. */
  @Test
  void withoutAPassDeviceTheAmplifierFollowsInFull() {
    RangeDesign gate = full("1mA", 5, alone("R1", 5e3), Designs.GATE);
    RangeDesign none = with(gate, Optional.empty(), List.of(), Optional.empty());
    Spread resistance = spread(circuit(none), ResultQuantity.OUTPUT_RESISTANCE, 0);
    assertEquals(5e3 * 1e6, resistance.nominal(), 1e-5 * 5e9);
    assertEquals(15 - 5 - 1, spread(circuit(none), ResultQuantity.COMPLIANCE_VOLTAGE, 0).nominal());
  }

  /**
   * The loop holds the emitter's current, so the output sees beta r_o = beta (V_A + V_CE)/I at
   * most, here with V_A = 74 V, V_CE = 9.4 V and a beta that has risen from 5 V to there (Gray,
   * Hurst, Lewis and Meyer, Analysis and Design of Analog Integrated Circuits, 3.3.8, from memory).
   */
  @Test
  void noGainMendsTheBaseCurrentOfABipolarDevice() {
    Spread s =
        spread(
            circuit(full("1mA", 5, alone("R1", 5e3), Designs.BIPOLAR)),
            ResultQuantity.OUTPUT_RESISTANCE,
            0);
    double betaRo = 100 * (74 + 9.4) / (74 + 5) * (74 + 9.4) / 1e-3;
    assertEquals(betaRo, s.nominal(), 0.02 * betaRo);
    assertTrue(s.lowest() < 0.6 * betaRo && s.highest() > 5 * betaRo, s.toString());
    assertTrue(shareOf(s, "Q1") > 0.99);
  }

  /** Beta rises by 0.6 % per kelvin, so 0.94 % of base current is 57 ppm/K. */
  @Test
  void aBipolarDeviceDriftsWithItsBeta() {
    DesignCircuit circuit = circuit(full("1mA", 5, alone("R1", 5e3), Designs.BIPOLAR));
    assertEquals(57, spread(circuit, ResultQuantity.TEMPCO, 0).nominal(), 0.5);
  }

  @Test
  void aNegativeNominalCurrentKeepsItsSignAndItsError() {
    RangeDesign up = full("1mA", 5, alone("R1", 5e3), Designs.GATE);
    RangeDesign down =
        new RangeDesign(
            "1mA",
            -1e-3,
            0,
            5,
            up.reference(),
            up.resistor(),
            up.amplifier(),
            up.passDevice(),
            up.series(),
            up.leakage(),
            up.supply(),
            Optional.empty(),
            List.of());
    assertTrue(spread(circuit(down), ResultQuantity.CURRENT, 0).nominal() < 0);
    assertEquals(
        spread(circuit(up), ResultQuantity.CURRENT_ERROR, 0).nominal(),
        spread(circuit(down), ResultQuantity.CURRENT_ERROR, 0).nominal());
  }

  @Test
  void theSameSeedGivesTheSameUnits() {
    DesignCircuit circuit = Designs.decades(3, Designs.BIPOLAR, true);
    assertEquals(predict(circuit).ranges(), predict(circuit).ranges());
  }

  @Test
  void refusesACoverageOfOne() {
    DesignCircuit circuit = Designs.decades(2, Designs.GATE, false);
    assertThrows(
        IllegalArgumentException.class, () -> DesignPrediction.of(circuit, 1, 1000, new Seeds(1)));
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8})
  void everyDrawnUnitLiesWithinTheWorstCaseAndSharesAddToOne(int seed) {
    SplittableRandom random = new Seeds(seed).stream("designs");
    DesignCircuit circuit =
        Designs.decades(
            1 + random.nextInt(5),
            random.nextBoolean() ? Designs.BIPOLAR : Designs.GATE,
            random.nextBoolean());
    DesignPrediction prediction = DesignPrediction.of(circuit, 0.999, 2000, new Seeds(seed));
    for (DesignForecast forecast : notEmpty(prediction.ranges())) {
      Spread s = forecast.spread().orElseThrow();
      double slack = 1e-9 * Math.abs(s.nominal()) + 1e-9 * (s.highest() - s.lowest());
      assertTrue(s.lowest() <= s.lower() + slack && s.upper() <= s.highest() + slack);
      assertTrue(s.lowest() <= s.nominal() + slack && s.nominal() <= s.highest() + slack);
      assertEquals(1, s.shares().stream().mapToDouble(DeviationContribution::share).sum(), 1e-9);
    }
  }
}
