// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import millrace.verification.Held;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * U of a tempco neither explodes by chance with three temperatures nor where I(T) is curved: misfit
 * is no error of the least-squares slope of the true I(T) (methods.md 5.2).
 */
class FewTemperaturesTest {
  private static final double NOISE_PPM = 0.5;
  private static final int DEGREES = 30;

  private static void counted(double[] lap, double curvature, int sets) {
    String name = "tempco, %s temperatures, curvature %s ppm/K2".formatted(lap.length, curvature);
    Held held = new Held(FewTemperaturesTest.class, name);
    SplittableRandom random = new Seeds(52).stream(name);
    List<Double> widths = new ArrayList<>();
    double squares = 0;
    double truth = slope(lap, curvature);
    for (int s = 0; s < sets; s++) {
      ComputationOutcome.Value v = tempco(lap, curvature, random);
      held.add(truth, v);
      widths.add(v.uncertainty().orElseThrow().expanded());
      squares += Math.pow(v.value() - truth, 2);
    }
    widths.sort(null);
    double median = widths.get(sets / 2);
    double largest = widths.get(sets - 1) / median;
    assertTrue(largest < 3, "largest U is " + largest + " times the median");
    double wide = median / (2 * Math.sqrt(squares / sets));
    assertTrue(wide > 0.85 && wide < 1.3, "U is " + wide + " times twice the rms error");
    held.holdsBetween(0.93, 0.975);
  }

  /** Least-squares slope of the true curve, ppm/K. */
  private static double slope(double[] lap, double curvature) {
    double mean = 0;
    for (double t : lap) {
      mean += t / lap.length;
    }
    double ty = 0;
    double tt = 0;
    for (double t : lap) {
      ty += (t - mean) * (0.8 * (t - 23) + curvature * (t - 23) * (t - 23));
      tt += (t - mean) * (t - mean);
    }
    return ty / tt;
  }

  private static ComputationOutcome.Value tempco(
      double[] lap, double curvature, SplittableRandom random) {
    double chi = 0;
    for (int i = 0; i < DEGREES; i++) {
      chi += Math.pow(random.nextGaussian(), 2);
    }
    double s = NOISE_PPM * Math.sqrt(chi / DEGREES);
    List<TemperaturePoint> points = new ArrayList<>();
    for (int i = 0; i < lap.length; i++) {
      double above = lap[i] - 23;
      double ppm = 0.8 * above + curvature * above * above + NOISE_PPM * random.nextGaussian();
      ErrorSource noise =
          new ErrorSource(
              "noise",
              ErrorSource.POINT,
              "p" + i,
              ErrorDistribution.NORMAL,
              OptionalDouble.of(DEGREES),
              s,
              "ppm");
      points.add(
          new TemperaturePoint(
              i,
              lap[i],
              Estimate.exact(lap[i]),
              Estimate.exact(1e-3 * (1 + ppm * 1e-6)).with(noise, 1e-9),
              3600.0 * i));
    }
    TemperatureStudy study = TemperatureStudy.of(points, 23);
    return (ComputationOutcome.Value)
        TemperatureResults.of(study, "1mA", 0.9545, List.of()).stream()
            .filter(r -> r.quantity() == ResultQuantity.TEMPCO)
            .findFirst()
            .orElseThrow()
            .outcome();
  }

  private static void all(int sets) {
    counted(new double[] {23, 5, 45}, 0, sets);
    counted(new double[] {23, 5, 45}, 0.1, sets);
    counted(new double[] {23, 5, 14, 34, 45}, 0.1, sets);
  }

  @Test
  void aFewSets() {
    all(200);
  }

  @Tag("campaign")
  @Test
  void twoThousandSets() {
    all(2000);
  }
}
