// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import millrace.verification.Held;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The intervals of section 5 hold the truth as often as they say, with all bench errors redrawn in
 * every set: gain of the meter, scale and noise of the thermometer, noise of the stays.
 */
class TemperatureCoverageTest {
  private static final double NOISE_PPM = 0.4;
  private static final double THERMOMETER_K = 0.03;
  private static final double SCALE = 0.004;
  private static final double GAIN_PPM = 30;

  @Test
  void aFewHundredNights() {
    campaign(150);
  }

  @Tag("campaign")
  @Test
  void manyNights() {
    campaign(4000);
  }

  private static void campaign(int nights) {
    Held slope = new Held(TemperatureCoverageTest.class, "tempco");
    Held a = new Held(TemperatureCoverageTest.class, "tempco_quadratic_a");
    Held b = new Held(TemperatureCoverageTest.class, "tempco_quadratic_b");
    Held turnover = new Held(TemperatureCoverageTest.class, "turnover");
    Held cold = new Held(TemperatureCoverageTest.class, "thermal_hysteresis");
    for (int seed = 0; seed < nights; seed++) {
      Made straight = new Made(seed, 0, 0);
      slope.add(straight.slope, outcome(straight, ResultQuantity.TEMPCO));
      Made curved = new Made(seed, -0.04, 0);
      a.add(curved.slope, outcome(curved, ResultQuantity.TEMPCO_QUADRATIC_A));
      b.add(curved.curve, outcome(curved, ResultQuantity.TEMPCO_QUADRATIC_B));
      turnover.add(
          23 - curved.slope / (2 * curved.curve), outcome(curved, ResultQuantity.TURNOVER));
      Made shifted = new Made(seed, 0, -4);
      cold.add(shifted.shift, outcome(shifted, ResultQuantity.THERMAL_HYSTERESIS));
    }
    slope.holdsAsStated();
    a.holdsAsStated();
    b.holdsAsStated();
    turnover.holdsAsStated();
    cold.holdsAsStated();
  }

  private static ComputationOutcome outcome(Made made, ResultQuantity quantity) {
    List<Result> all =
        TemperatureResults.of(TemperatureStudy.of(made.points, 23), "1mA", 0.9545, List.of());
    return all.stream()
        .filter(r -> r.quantity() == quantity)
        .filter(
            r -> r.at().words().getOrDefault(ResultConditionKey.EXCURSION, "cold").equals("cold"))
        .findFirst()
        .orElseThrow()
        .outcome();
  }

  /** One night with its truth: six hours, five temperatures, T_ref three times. */
  private static final class Made {
    private final double slope;
    private final double curve;
    private final double shift;
    private final List<TemperaturePoint> points = new ArrayList<>();
    private final SplittableRandom random;
    private final double gainPpm;
    private final double scale;
    private final double driftPpmPerH;

    Made(long seed, double curve, double shift) {
      this.random = new Seeds(seed).stream("coverage");
      this.slope = 0.5 + 0.4 * random.nextDouble();
      this.curve = curve;
      this.shift = shift;
      this.gainPpm = GAIN_PPM * flat();
      this.scale = SCALE * flat();
      this.driftPpmPerH = gaussian();
      stay(23, 0);
      stay(5, shift / 2);
      stay(23, shift);
      stay(35, shift / 2);
      stay(50, 0);
      stay(23, 0);
    }

    private double flat() {
      return 2 * random.nextDouble() - 1;
    }

    private double gaussian() {
      double u = 1 - random.nextDouble();
      return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random.nextDouble());
    }

    private void stay(double degC, double shiftPpm) {
      int i = points.size();
      double above = degC - 23;
      double truePpm = slope * above + curve * above * above + driftPpmPerH * i + shiftPpm;
      double readPpm = truePpm + gainPpm + NOISE_PPM * gaussian();
      double read = 1e-3 * (1 + readPpm * 1e-6);
      double readDegC = degC + scale * above + THERMOMETER_K * gaussian();
      Estimate current =
          Estimate.exact(read)
              .with(ErrorSource.normal("noise", ErrorSource.POINT, "p" + i, NOISE_PPM, "ppm"), 1e-9)
              .with(
                  ErrorSource.within(
                      "gain", ErrorSource.INSTRUMENT_AND_RANGE, "m", GAIN_PPM, "ppm"),
                  1e-9);
      Estimate temperature =
          Estimate.exact(readDegC)
              .with(
                  ErrorSource.normal("thermometer", ErrorSource.POINT, "t" + i, THERMOMETER_K, "K"),
                  1)
              .with(ErrorSource.within("scale", ErrorSource.RUN, "t", SCALE, "1"), above);
      points.add(new TemperaturePoint(i, degC, temperature, current, 3600.0 * i));
    }
  }
}
