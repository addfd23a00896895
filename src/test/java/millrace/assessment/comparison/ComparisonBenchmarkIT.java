// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.logging.Logger;
import millrace.assessment.comparison.Batch.Order;
import millrace.evidence.Result;
import millrace.logbook.GroupedTransactions;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How long a comparison of many boards takes, told and not asserted. */
@Tag("campaign")
class ComparisonBenchmarkIT {
  private static final int BOARDS = 2_000;
  private static final int RANGES = 20;

  @TempDir Path folder;

  @Test
  void aComparisonOfTwoThousandBoards() {
    try (Batch batch = new Batch(folder)) {
      try (GroupedTransactions groupedTransactions = batch.book().bulk(10_000)) {
        fill(batch);
        groupedTransactions.finish();
      }
      SystemClock clock = new SystemClock();
      Duration began = clock.elapsed();
      Comparison c = batch.compared();
      Duration took = clock.elapsed().minus(began);
      assertEquals(BOARDS, c.yields().get(Comparison.ALL).firstPass().of());
      assertEquals(RANGES, c.distributions().size());
      Logger.getLogger(getClass().getName())
          .info(
              "compared %s boards with %s results each in %s ms"
                  .formatted(BOARDS, RANGES, took.toMillis()));
    }
  }

  private static void fill(Batch batch) {
    SplittableRandom random = new Seeds(5).stream("boards");
    for (int i = 0; i < BOARDS; i++) {
      List<Result> results = new ArrayList<>();
      for (int r = 0; r < RANGES; r++) {
        Result one = Batch.error(20 * (random.nextDouble() + random.nextDouble() - 1));
        results.add(
            new Result(
                one.quantity(),
                Optional.of("range " + r),
                one.at(),
                one.outcome(),
                one.judgement(),
                one.budget(),
                one.ppmBase(),
                one.method(),
                one.notes()));
      }
      batch.run(Order.of("U" + i).in("B" + i % 4), results);
    }
  }
}
