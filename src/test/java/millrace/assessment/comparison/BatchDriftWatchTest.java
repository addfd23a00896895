// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import millrace.assessment.comparison.Batch.Order;
import millrace.assessment.comparison.BatchDriftWatch.Drift;
import millrace.report.words.BatchDriftWords;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BatchDriftWatchTest {
  @TempDir private Path folder;

  /** Boards with a spread of 5 ppm, tested one after another; the last run. */
  private static long boards(Batch batch, Random random, int from, int to, double meanPpm) {
    long last = 0;
    for (int i = from; i < to; i++) {
      last =
          batch.run(
              Order.of("B-" + i).in("B7"),
              List.of(Batch.error(meanPpm + 5 * random.nextGaussian())));
    }
    return last;
  }

  @Test
  void saysSinceWhichUnitABatchDrifts() {
    try (Batch batch = new Batch(folder)) {
      Random random = new Random(1);
      BatchDriftWatch watch = new BatchDriftWatch();
      long run = boards(batch, random, 0, 40, 0);
      assertEquals(List.of(), watch.of(batch.book().reader(run).batch()));
      run = boards(batch, random, 40, 52, 12);
      // A retest and another batch are in no chart.
      batch.run(Order.of("B-0").in("B7"), List.of(Batch.error(90)));
      batch.run(Order.of("C-0").in("B8"), List.of(Batch.error(-90)));
      List<Drift> drifts = watch.of(batch.book().reader(run).batch());
      assertEquals(1, drifts.size());
      Drift drift = drifts.get(0);
      assertEquals(40, drift.unitsBefore(), 2);
      assertEquals("B-" + drift.unitsBefore(), drift.since());
      assertEquals(52, drift.unitsBefore() + drift.units());
      assertEquals(12, drift.shift().now() - drift.shift().before(), 4);
      List<String> said = BatchDriftWords.of(drifts);
      assertEquals(2, said.size());
      assertTrue(
          said.get(0)
              .matches(
                  "The batch drifts: current error of 1mA lies 1\\d ppm higher since B-\\d\\d,"
                      + " 1\\d units of 52 \\(\\d\\.\\d standard deviations\\)\\."),
          said.get(0));
    }
  }

  @Test
  void saysNothingOfARunInNoBatch() {
    try (Batch batch = new Batch(folder)) {
      long run = batch.run(Order.of("B-0"), List.of(Batch.error(1)));
      assertEquals(List.of(), new BatchDriftWatch().of(batch.book().reader(run).batch()));
    }
  }
}
