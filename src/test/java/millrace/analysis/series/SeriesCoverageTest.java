// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.time.Seeds;
import millrace.verification.Held;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The intervals of drift and noise hold the truth as often as they say. */
class SeriesCoverageTest {
  private static final double METER_PPM_PER_H = 0.5;
  private static final TimeSeriesRequest QUESTION =
      new TimeSeriesRequest(
          "1mA", Records.NOMINAL_A, "I_N", OptionalDouble.of(1), OptionalDouble.empty(), 0.9545);

  @Test
  void aFewHundredRecords() {
    campaign(150);
  }

  @Tag("campaign")
  @Test
  void manyRecords() {
    campaign(2000);
  }

  private static void campaign(int records) {
    Held white = new Held(SeriesCoverageTest.class, "drift with white errors");
    Held alike = new Held(SeriesCoverageTest.class, "drift with errors that follow one another");
    Held meter = new Held(SeriesCoverageTest.class, "drift with a meter that drifts");
    Held rms = new Held(SeriesCoverageTest.class, "noise_rms");
    for (int seed = 0; seed < records; seed++) {
      SplittableRandom random = new Seeds(seed).stream("drift");
      double truth = 4 * random.nextDouble() - 2;
      TimeSeries plain = Records.current(Records.white(seed, 60), truth, 120);
      white.add(truth, Drift.of(plain, QUESTION, Estimate.exact(0), Optional.empty()).outcome());
      rms.add(1, Noise.of(plain, QUESTION).get(0).outcome());
      TimeSeries slow = Records.current(Records.alike(seed, 240, 0.5), truth, 30);
      alike.add(truth, Drift.of(slow, QUESTION, Estimate.exact(0), Optional.empty()).outcome());
      double own = METER_PPM_PER_H * (2 * random.nextDouble() - 1);
      TimeSeries both = Records.current(Records.white(seed + 7L, 60), truth + own, 120);
      meter.add(truth, Drift.of(both, QUESTION, bench(), Optional.empty()).outcome());
    }
    // A record alone leaves the law of its noise open: U is 1.4 to 1.8 times what white noise asks.
    white.holdsBetween(0.95, 1);
    alike.holdsBetween(0.95, 1);
    meter.holdsBetween(0.95, 1);
    rms.holdsAsStated();
  }

  private static Estimate bench() {
    return Estimate.exact(0)
        .with(
            ErrorSource.within(
                "meter drift", ErrorSource.INSTRUMENT_AND_RANGE, "dmm", METER_PPM_PER_H, "ppm/h"),
            1);
  }
}
