// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import millrace.analysis.noise.Noises;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.verification.Held;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * How often means of points hold the truth where a hundred readings or more of a kind tell their
 * own correlation, and no record is there: AR(1), points far apart (methods.md 2.1).
 */
class MeanCoverageTest {
  private static final int POINTS = 20;

  private static void counted(double r1, int readings, int sets, double least, double most) {
    Random random = new Random(210 + Math.round(100 * r1) + readings);
    String name = "mean of %s readings, AR(1) %s, %s points".formatted(readings, r1, POINTS);
    Held one = new Held(MeanCoverageTest.class, name);
    Held slope = new Held(MeanCoverageTest.class, "slope over points of " + name);
    for (int s = 0; s < sets; s++) {
      List<ReadingStatistics> points = new ArrayList<>();
      for (int p = 0; p < POINTS; p++) {
        points.add(ReadingAccumulator.statisticsOf(Noises.autoregression(random, readings, r1)));
      }
      PooledNoise noise = PooledNoise.of("pool", points, 0);
      double[] weights = new double[POINTS];
      List<Estimate> means = new ArrayList<>();
      for (int p = 0; p < POINTS; p++) {
        means.add(noise.mean(points.get(p), "p" + p, "ppm"));
        weights[p] = p - (POINTS - 1) / 2.0;
      }
      one.add(0, outcome(means.get(0)));
      slope.add(0, outcome(Estimate.combine(0, weights, means)));
    }
    one.holdsBetween(least, most);
    slope.holdsBetween(least, most);
  }

  private static ComputationOutcome outcome(Estimate e) {
    return new ComputationOutcome.Value(
        e.value(), Optional.of(Budget.of(e).uncertainty(0.9545)), 1);
  }

  @Test
  void aFewSets() {
    counted(0, 10, 200, 0.92, 1);
    counted(0.8, 20, 200, 0.90, 1);
  }

  @Tag("campaign")
  @Test
  void twoThousandSets() {
    for (int readings : new int[] {5, 10, 30}) {
      counted(0, readings, 2000, 0.94, 0.985);
      counted(0.5, readings, 2000, 0.92, 0.985);
      counted(0.8, readings, 2000, 0.88, 0.985);
    }
  }
}
