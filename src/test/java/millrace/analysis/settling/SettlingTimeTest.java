// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import millrace.analysis.Reference;
import millrace.analysis.settling.SettlingTime.Question;
import millrace.analysis.settling.SettlingTime.Reading;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SettlingTimeTest {
  private static Question within(double ppm) {
    return new Question("1mA", false, ppm, 5, 200, 0.9545);
  }

  /** 1 mA that is off by so many ppm at first and comes home with a time constant. */
  private static List<Reading> settling(double offPpm, double tauS, double noisePpm, double lastS) {
    SplittableRandom random = new Seeds(1).stream("settling");
    List<Reading> readings = new ArrayList<>();
    for (double t = 0; t <= lastS; t += 1) {
      double noise = noisePpm * Math.sqrt(3) * (2 * random.nextDouble() - 1);
      readings.add(new Reading(t, 1e-3 * (1 + 1e-6 * (offPpm * Math.exp(-t / tauS) + noise))));
    }
    return readings;
  }

  @ParameterizedTest
  @ValueSource(doubles = {1, 5, 20, 100})
  void theTrueTimeLiesInTheInterval(double ppm) {
    Result found = SettlingTime.of(settling(1000, 60, 0.3, 1200), within(ppm));
    ComputationOutcome.Uncertainty u =
        assertInstanceOf(ComputationOutcome.Value.class, found.outcome())
            .uncertainty()
            .orElseThrow();
    double truth = 60 * Math.log(1000 / ppm);
    assertTrue(
        u.lower() <= truth && truth <= u.upper(),
        () -> truth + " not in " + u.lower() + " to " + u.upper());
    assertEquals(ppm, found.at().number(ResultConditionKey.WITHIN_PPM).orElseThrow());
  }

  /** Source: settling times from decays fitted with R (nls), in the reference file. */
  @ParameterizedTest
  @CsvSource({
    "settle_1, ppm1, 1, 1500, 5",
    "settle_1, ppm10, 10, 1500, 5",
    "settle_2, percent1, 1e4, 300, 1",
    "settle_2, percent0.1, 1e3, 300, 1"
  })
  void agreesWithTheTimeOfAFittedDecay(
      String name, String within, double ppm, double lastS, double blockS) {
    JsonNode fitted = Reference.json("curves/" + name + ".json");
    double tau = fitted.get("estimate").get("tau").asDouble();
    double a = fitted.get("estimate").get("a").asDouble();
    double b = fitted.get("estimate").get("b").asDouble();
    List<Reading> readings = new ArrayList<>();
    for (double t = 0; t < lastS; t += blockS / 5) {
      readings.add(new Reading(t, a + b * Math.exp(-t / tau)));
    }
    Question question = new Question("1mA", false, ppm, blockS, lastS / 8, 0.9545);
    ComputationOutcome.Value found =
        assertInstanceOf(
            ComputationOutcome.Value.class, SettlingTime.of(readings, question).outcome());
    double expected = fitted.get("settle_time_to").get(within).asDouble();
    assertEquals(expected, found.value(), found.uncertainty().orElseThrow().expanded());
  }

  @Test
  void aCurrentThatWasSettledInTheFirstBlockIsBelowIt() {
    ComputationOutcome outcome = SettlingTime.of(settling(0, 60, 0.3, 1200), within(10)).outcome();
    ComputationOutcome.Bound bound = assertInstanceOf(ComputationOutcome.Bound.class, outcome);
    assertEquals(ComputationOutcome.Side.BELOW, bound.side());
    assertEquals(5, bound.value(), 1e-9);
  }

  @Test
  void aCurrentThatDoesNotSettleIsAboveTheRecord() {
    ComputationOutcome outcome =
        SettlingTime.of(settling(1000, 2000, 0.3, 1200), within(1)).outcome();
    ComputationOutcome.Bound bound = assertInstanceOf(ComputationOutcome.Bound.class, outcome);
    assertEquals(ComputationOutcome.Side.ABOVE, bound.side());
    assertEquals(1200, bound.value(), 5);
  }

  @Test
  void aBandThatNoiseFillsIsNotComputed() {
    ComputationOutcome outcome = SettlingTime.of(settling(1000, 60, 20, 1200), within(2)).outcome();
    String reason = assertInstanceOf(ComputationOutcome.Missing.class, outcome).reason();
    assertTrue(reason.contains("a band of 2.000 ppm cannot be resolved"), reason);
  }

  @Test
  void aRecordShorterThanTwoWindowsIsNotComputed() {
    ComputationOutcome outcome = SettlingTime.of(settling(1000, 60, 0.3, 300), within(2)).outcome();
    assertEquals(
        "a record of 300.0 s; needs twice the last window of 200.0 s, with a current",
        assertInstanceOf(ComputationOutcome.Missing.class, outcome).reason());
    assertInstanceOf(
        ComputationOutcome.Missing.class, SettlingTime.of(List.of(), within(2)).outcome());
  }

  @Test
  void fromPowerOnItIsWarmUpTime() {
    Question question = new Question("1mA", true, 10, 5, 200, 0.9545);
    Result found = SettlingTime.of(settling(1000, 60, 0.3, 1200), question);
    assertEquals(ResultQuantity.WARM_UP_TIME, found.quantity());
  }
}
