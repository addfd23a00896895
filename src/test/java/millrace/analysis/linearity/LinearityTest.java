// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.random.RandomGenerator;
import millrace.analysis.linearity.RangeRatio.Side;
import millrace.analysis.linearity.SettableSourceLinearity.SetPoint;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

class LinearityTest {
  private static final double I0 = 1e-3;
  private static final LoadSweepRequest QUESTION =
      LoadSweepRequest.of("1mA", I0, 0.9545).withCompliance(OptionalDouble.of(8), 1e-3, true);

  private static Estimate measured(String key, double value, double u) {
    return Estimate.exact(value)
        .with(ErrorSource.normal("noise", ErrorSource.POINT, key, u, "A"), 1);
  }

  /** A current that bends by c V^2. */
  private static List<LoadPoint> bent(double c, double noiseA, RandomGenerator chance) {
    List<LoadPoint> points = new ArrayList<>();
    for (int k = 0; k <= 20; k++) {
      double v = k <= 10 ? k : 20 - k;
      double i = I0 - 1e-9 * v - c * v * v + noiseA * chance.nextGaussian();
      points.add(
          new LoadPoint(
              "p" + k,
              Estimate.exact(v),
              measured("p" + k, i, noiseA),
              OptionalDouble.of(v * 1e3),
              10.0 * k,
              false,
              false));
    }
    return points;
  }

  private static ComputationOutcome.Value value(List<Result> results, ResultQuantity quantity) {
    return assertInstanceOf(
        ComputationOutcome.Value.class,
        results.stream().filter(r -> r.quantity() == quantity).findFirst().orElseThrow().outcome());
  }

  @Test
  void aBendIsFoundUpToThePromisedVoltage() {
    List<Result> results = LoadLinearity.of(bent(1e-9, 1e-13, chance()), QUESTION);
    // c x^2 over 0..8 V: c 64/8 for the minimax line, c 64/4 for the chord, 1e-3 A is I_N
    assertEquals(8, value(results, ResultQuantity.LINEARITY_INDEPENDENT).value(), 0.001);
    assertEquals(16, value(results, ResultQuantity.LINEARITY_TERMINAL).value(), 0.001);
    assertEquals(4, results.size());
  }

  private static RandomGenerator chance() {
    return new Seeds(8).stream("linearity");
  }

  @Test
  void noiseAloneGivesABoundThatHoldsTheTruth() {
    for (Result result : notEmpty(LoadLinearity.of(bent(0, 1e-9, chance()), QUESTION))) {
      ComputationOutcome.Bound bound =
          assertInstanceOf(ComputationOutcome.Bound.class, result.outcome());
      assertEquals(ComputationOutcome.Side.BELOW, bound.side());
      assertTrue(bound.value() > 1 && bound.value() < 20, "bound " + bound.value());
    }
  }

  @Test
  void theIntervalHoldsTheTruthWhetherValueOrBound() {
    RandomGenerator chance = chance();
    for (double noise : new double[] {1e-10, 1e-9, 2e-9, 4e-9, 1e-8}) {
      int inside = 0;
      for (int k = 0; k < 500; k++) {
        List<Result> results = LoadLinearity.of(bent(1e-9, noise, chance), QUESTION);
        ComputationOutcome outcome = results.get(0).outcome();
        if (outcome instanceof ComputationOutcome.Value v) {
          ComputationOutcome.Uncertainty u = v.uncertainty().orElseThrow();
          inside += u.lower() <= 8 && 8 <= u.upper() ? 1 : 0;
        } else {
          inside += assertInstanceOf(ComputationOutcome.Bound.class, outcome).value() >= 8 ? 1 : 0;
        }
      }
      assertTrue(inside >= 450, "noise " + noise + ": " + inside + " of 500");
    }
  }

  @Test
  void withoutAPromisedVoltageTheLoadsThatHoldCount() {
    List<Result> results =
        LoadLinearity.of(bent(1e-9, 1e-13, chance()), LoadSweepRequest.of("1mA", I0, 0.9545));
    assertEquals(12.5, value(results, ResultQuantity.LINEARITY_INDEPENDENT).value(), 0.01);
    assertTrue(results.get(0).notes().get(0).startsWith("no compliance voltage is promised"));
  }

  @Test
  void aSweepThatStopsShortSaysSo() {
    LoadSweepRequest far =
        LoadSweepRequest.of("1mA", I0, 0.9545).withCompliance(OptionalDouble.of(12), 1e-3, true);
    List<Result> results = LoadLinearity.of(bent(1e-9, 1e-13, chance()), far);
    assertEquals(
        "tested up to 10.00 V only, the datasheet promises 12.00 V", results.get(0).notes().get(0));
  }

  @Test
  void tooFewPointsAreAReason() {
    for (Result result : notEmpty(LoadLinearity.of(List.of(), QUESTION))) {
      assertInstanceOf(ComputationOutcome.Missing.class, result.outcome());
    }
  }

  @Test
  void aSettableSourceHasGainAndOffset() {
    List<SetPoint> points = new ArrayList<>();
    for (int k = 0; k <= 10; k++) {
      double set = k * 1e-4;
      points.add(new SetPoint("s" + k, set, measured("s" + k, set * 1.00005 + 2e-9, 1e-11)));
    }
    List<Result> results =
        SettableSourceLinearity.of(
            points, new SettableSourceLinearity.Question("1mA", ResultConditions.NONE, 0.9545));
    assertEquals(50, value(results, ResultQuantity.GAIN_ERROR).value(), 1e-6);
    assertEquals(2e-9, value(results, ResultQuantity.OFFSET_ERROR).value(), 1e-15);
    // u of a slope: u/sqrt(sum (x - mean)^2) = 1e-11/(1e-4 sqrt 110)
    assertEquals(
        1e6 * 1e-7 / Math.sqrt(110),
        value(results, ResultQuantity.GAIN_ERROR).uncertainty().orElseThrow().standard(),
        1e-9);
    assertEquals("span of I", results.get(0).ppmBase().orElseThrow());
  }

  @Test
  void oneSetValueIsAReason() {
    List<SetPoint> one = List.of(new SetPoint("a", 1e-3, measured("a", 1e-3, 1e-9)));
    for (Result result :
        SettableSourceLinearity.of(
            one, new SettableSourceLinearity.Question("1mA", ResultConditions.NONE, 0.9545))) {
      assertInstanceOf(ComputationOutcome.Missing.class, result.outcome());
    }
  }

  @Test
  void whatTheMeterSharesCancelsInTheRatioOfRanges() {
    ErrorSource gain = ErrorSource.normal("gain", ErrorSource.INSTRUMENT_AND_RANGE, "m", 1e-4, "1");
    Estimate a = measured("a", 1.00001e-3, 1e-9).with(gain, 1e-3);
    Estimate b = measured("b", 1e-4, 1e-10).with(gain, 1e-4);
    Result ratio =
        RangeRatio.of(
            new Side("1mA", 1e-3, "dmm1 1 mA", a),
            new Side("100uA", 1e-4, "dmm1 1 mA", b),
            ResultConditions.NONE,
            0.9545);
    ComputationOutcome.Value value =
        assertInstanceOf(ComputationOutcome.Value.class, ratio.outcome());
    assertEquals(10, value.value(), 1e-9);
    assertEquals(Math.sqrt(2), value.uncertainty().orElseThrow().standard(), 1e-2);
    assertEquals("100uA", ratio.at().words().get(ResultConditionKey.OTHER_RANGE));
  }

  @Test
  void twoMeterRangesHaveNoRatio() {
    Estimate i = measured("a", 1e-3, 1e-9);
    Result ratio =
        RangeRatio.of(
            new Side("1mA", 1e-3, "dmm1 10 mA", i),
            new Side("100uA", 1e-4, "dmm1 1 mA", i),
            ResultConditions.NONE,
            0.9545);
    assertEquals(
        "measured in two meter ranges (dmm1 10 mA and dmm1 1 mA), needs one that serves both",
        assertInstanceOf(ComputationOutcome.Missing.class, ratio.outcome()).reason());
  }
}
