// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import org.junit.jupiter.api.Test;

class AllanDeviationTest {
  private static TimeSeriesRequest question(double integrationS) {
    return new TimeSeriesRequest(
        "1mA",
        Records.NOMINAL_A,
        "I_N",
        OptionalDouble.of(integrationS),
        OptionalDouble.empty(),
        0.9545);
  }

  @Test
  void whiteNoiseFallsAsTheRootOfTheAveragingTimeWithinItsIntervals() {
    int held = 0;
    int all = 0;
    for (int seed = 0; seed < 60; seed++) {
      TimeSeries series = Records.current(Records.white(seed, 2048), 0, 1);
      int m = 1;
      for (Result r : notEmpty(AllanDeviation.results(series, question(1)))) {
        ComputationOutcome.Uncertainty u =
            assertInstanceOf(ComputationOutcome.Value.class, r.outcome())
                .uncertainty()
                .orElseThrow();
        double truth = 1 / Math.sqrt(m);
        held += u.lower() <= truth && truth <= u.upper() ? 1 : 0;
        all++;
        m *= 2;
      }
    }
    double share = held / (double) all;
    assertTrue(share > 0.92 && share < 0.985, "held " + share);
  }

  @Test
  void noiseTypesAreToldApart() {
    double[] white = Records.white(3, 4000);
    double[] differences = new double[white.length - 1];
    Arrays.setAll(differences, i -> white[i + 1] - white[i]);
    assertEquals(NoiseType.WHITE_PHASE, NoiseType.of(differences, 30).orElseThrow());
    assertEquals(NoiseType.WHITE, NoiseType.of(white, 30).orElseThrow());
    assertEquals(NoiseType.RANDOM_WALK, NoiseType.of(Records.walk(3, 4000), 30).orElseThrow());
    assertEquals(NoiseType.FLICKER, NoiseType.of(flicker(3, 4096), 30).orElseThrow());
  }

  /** Flicker noise as a sum of octave-spaced relaxations (van der Ziel; common practice). */
  private static double[] flicker(long seed, int n) {
    double[] sum = new double[n];
    for (int octave = 0; octave < 17; octave++) {
      double[] part = Records.alike(seed + 100 * octave, n, Math.exp(-Math.pow(2, 3 - octave)));
      for (int i = 0; i < n; i++) {
        sum[i] += part[i];
      }
    }
    return sum;
  }

  @Test
  void theFloorIsTheLowestDeviation() {
    double[] errors = flicker(7, 4096);
    double[] white = Records.white(8, 4096);
    Arrays.setAll(errors, i -> errors[i] * 0.1 + white[i]);
    AllanDeviation found = AllanDeviation.of(Records.current(errors, 0, 1), Records.NOMINAL_A);
    double floor = found.floor(10).orElseThrow().deviationPpm();
    assertTrue(floor > 0.05 && floor < 0.25, "floor " + floor);
  }

  @Test
  void aShortRecordOfWhiteNoiseTellsNoFloor() {
    AllanDeviation found =
        AllanDeviation.of(Records.current(Records.white(8, 60), 0, 1), Records.NOMINAL_A);
    assertEquals(Optional.empty(), found.floor(100));
  }

  @Test
  void gapsAreSkippedAndNoted() {
    double[] errors = Records.white(5, 3000);
    int[] kept =
        IntStream.range(0, 3000).filter(i -> i % 10 != 3 && (i < 1000 || i > 1200)).toArray();
    TimeSeries whole = Records.current(errors, 0, 2);
    TimeSeries holed =
        TimeSeries.of(
            Arrays.stream(kept).mapToDouble(whole::timeS).toArray(),
            Arrays.stream(kept).mapToDouble(whole::currentA).toArray());
    AllanDeviation found = AllanDeviation.of(holed, Records.NOMINAL_A);
    assertEquals(3000, found.slots());
    assertEquals(3000 - kept.length, found.missing());
    for (AllanDeviation.Level level : notEmpty(found.levels())) {
      double truth = 1 / Math.sqrt(level.tauS() / 2);
      double u = truth / Math.sqrt(2 * level.degreesOfFreedom());
      assertEquals(truth, level.deviationPpm(), 4 * u + 0.08 * truth);
    }
    List<Result> results = AllanDeviation.results(holed, question(2));
    assertTrue(results.get(0).notes().get(0).contains("of 3000 readings are missing"));
  }

  @Test
  void deadTimeAboveATenthIsStated() {
    TimeSeries series = Records.current(Records.white(6, 100), 0, 1);
    assertTrue(
        AllanDeviation.results(series, question(0.4)).get(0).notes().stream()
            .anyMatch(n -> n.equals("dead time is 60 % of the time between readings")));
    assertTrue(
        AllanDeviation.results(series, question(0.95)).get(0).notes().stream()
            .noneMatch(n -> n.contains("dead time")));
  }

  @Test
  void aMillionReadingsReachTheirLongestOctave() {
    TimeSeries series = Records.current(Records.white(9, 1_000_000), 0, 1);
    AllanDeviation found = AllanDeviation.of(series, Records.NOMINAL_A);
    assertEquals(18, found.levels().size());
    assertEquals(1, found.levels().get(0).deviationPpm(), 0.005);
    assertEquals(1 / 64.0, found.levels().get(12).deviationPpm(), 0.1 / 64);
  }

  @Test
  void recordsThatHaveNoDeviationSayWhy() {
    for (TimeSeries none :
        List.of(
            Records.current(new double[3], 0, 1),
            Records.current(new double[20], 0, 0),
            TimeSeries.of(new double[] {0, 1, 2, 3, 4, 5, 6, 1e9, 2e9}, new double[9]))) {
      ComputationOutcome outcome = AllanDeviation.results(none, question(1)).get(0).outcome();
      assertTrue(
          assertInstanceOf(ComputationOutcome.Missing.class, outcome)
              .reason()
              .contains("needs at least 8"));
    }
  }
}
