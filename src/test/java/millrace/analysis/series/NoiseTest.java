// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class NoiseTest {
  private static TimeSeriesRequest question(double floorPpm) {
    return new TimeSeriesRequest(
        "1mA",
        Records.NOMINAL_A,
        "I_N",
        OptionalDouble.of(0.2),
        OptionalDouble.of(floorPpm),
        0.9545);
  }

  private static ComputationOutcome.Value value(Result result) {
    return assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 0.5})
  void theIntervalOfTheRmsHoldsTheTruth(double r) {
    int held = 0;
    for (int seed = 0; seed < 400; seed++) {
      TimeSeries series = Records.current(Records.alike(seed, 300, r), 3, 1);
      ComputationOutcome.Uncertainty u =
          value(Noise.of(series, question(0.1)).get(0)).uncertainty().orElseThrow();
      held += u.lower() <= 1 && 1 <= u.upper() ? 1 : 0;
    }
    assertTrue(held >= 370 && held <= 394, "held " + held);
  }

  @Test
  void bandwidthAndDurationAreThoseThatTheReadingsGive() {
    List<Result> found = Noise.of(Records.current(Records.white(1, 101), 50, 0.5), question(0.1));
    for (Result r : notEmpty(found)) {
      assertEquals(2.5, r.at().number(ResultConditionKey.BANDWIDTH_HZ).orElseThrow(), 1e-12);
      assertEquals(50, r.at().number(ResultConditionKey.DURATION_S).orElseThrow(), 1e-9);
    }
    assertEquals(ResultQuantity.NOISE_PEAK_TO_PEAK, found.get(1).quantity());
    double peaks = value(found.get(1)).value();
    assertTrue(peaks > 4 && peaks < 7, "peak to peak " + peaks);
  }

  @Test
  void noiseNearTheBenchsOwnIsAnUpperBound() {
    List<Result> found = Noise.of(Records.current(Records.white(2, 400), 0, 1), question(0.6));
    for (Result r : notEmpty(found)) {
      ComputationOutcome.Bound bound =
          assertInstanceOf(ComputationOutcome.Bound.class, r.outcome());
      assertEquals(ComputationOutcome.Side.BELOW, bound.side());
      assertTrue(bound.value() > 1);
      assertTrue(r.notes().stream().anyMatch(n -> n.contains("bench's own 0.600 ppm")));
    }
  }

  @Test
  void readingsThatAreAllAlikeOrTooFewSayWhatIsMissing() {
    Result flat = Noise.of(Records.current(new double[50], 0, 1), question(0)).get(0);
    assertEquals(
        "all readings are alike: the noise is below their resolution",
        assertInstanceOf(ComputationOutcome.Missing.class, flat.outcome()).reason());
    Result few = Noise.of(Records.current(new double[3], 0, 1), question(0)).get(1);
    assertEquals(
        "3 readings, needs at least 10 at different times",
        assertInstanceOf(ComputationOutcome.Missing.class, few.outcome()).reason());
  }
}
