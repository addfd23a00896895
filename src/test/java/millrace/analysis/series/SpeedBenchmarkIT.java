// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.function.DoubleSupplier;
import millrace.analysis.regression.LinearFit;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Fits and Allan deviations over a million readings, against a plain two-pass loop in the same run:
 * both alternate and their medians are compared, so that a busy machine disturbs both alike. A
 * benchmark: it prints times and ratios into {@code target/benchmarks} and asserts nothing about
 * them.
 */
@Tag("campaign")
class SpeedBenchmarkIT {
  private static final int N = 1_000_000;
  private static final int ROUNDS = 15;

  private final double[] x = new double[N];
  private final double[] y = new double[N];
  private final double[] u = new double[N];
  private double sink;

  SpeedBenchmarkIT() {
    SplittableRandom random = new Seeds(1).stream("speed");
    for (int i = 0; i < N; i++) {
      x[i] = i;
      y[i] = 1e-3 * (1 + 1e-6 * random.nextGaussian());
      u[i] = 1e-9;
    }
  }

  /** Means first, then sums about them: what a fit by hand takes. */
  private double plainLine() {
    double meanX = 0;
    double meanY = 0;
    for (int i = 0; i < N; i++) {
      meanX += x[i];
      meanY += y[i];
    }
    meanX /= N;
    meanY /= N;
    double xx = 0;
    double xy = 0;
    for (int i = 0; i < N; i++) {
      xx += (x[i] - meanX) * (x[i] - meanX);
      xy += (x[i] - meanX) * (y[i] - meanY);
    }
    return xy / xx;
  }

  private double weightedLine() {
    double[] ones = new double[N];
    Arrays.fill(ones, 1);
    return LinearFit.of(new double[][] {ones, x}, y, u).coefficient(1);
  }

  private double allan() {
    TimeSeriesRequest question =
        new TimeSeriesRequest(
            "1mA", 1e-3, "I_N", OptionalDouble.empty(), OptionalDouble.empty(), 0.95);
    return AllanDeviation.results(TimeSeries.of(x, y), question).size();
  }

  private double seconds(DoubleSupplier work) {
    ThreadMXBean threads = ManagementFactory.getThreadMXBean();
    double from = threads.getCurrentThreadCpuTime() / 1e9;
    sink += work.getAsDouble();
    return threads.getCurrentThreadCpuTime() / 1e9 - from;
  }

  @Test
  void measuresFitsAndAllanDeviationsOverAMillionReadings() throws IOException {
    DoubleSupplier[] all = {
      this::plainLine, () -> LineFitOverTime.of(x, y).scatter(), this::weightedLine, this::allan
    };
    double[][] taken = new double[all.length][ROUNDS];
    for (int round = 0; round < ROUNDS; round++) {
      for (int k = 0; k < all.length; k++) {
        taken[k][round] = seconds(all[k]);
      }
    }
    String[] names = {
      "two-pass loop",
      "line over time",
      "weighted fit with estimator",
      "overlapping Allan deviation"
    };
    StringBuilder lines = new StringBuilder("what,seconds,ratio_to_two_pass_loop\n");
    double[] median = new double[all.length];
    for (int k = 0; k < all.length; k++) {
      Arrays.sort(taken[k]);
      median[k] = taken[k][ROUNDS / 2];
      lines.append(
          "%s,%s,%s%n"
              .formatted(
                  names[k],
                  NumberText.significant(median[k], 3),
                  NumberText.significant(median[k] / median[0], 3)));
    }
    Path out = Files.createDirectories(Path.of("target", "benchmarks"));
    Files.writeString(out.resolve("million-readings.csv"), lines);
    assertTrue(Double.isFinite(sink));
  }
}
