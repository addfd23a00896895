// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;
import millrace.logbook.BatchJudgedValue;
import org.junit.jupiter.api.Test;

class MergedBatchTest {
  private static final Instant START = Instant.parse("2026-03-02T06:00:00Z");

  private static BatchJudgedValue at(int minute, String unit, double value) {
    return new BatchJudgedValue(
        new UUID(minute, unit.hashCode()),
        START.plusSeconds(60L * minute),
        unit,
        ResultQuantity.CURRENT_ERROR,
        Optional.of("1mA"),
        ConditionBox.NONE,
        value,
        1);
  }

  private static List<Double> values(List<BatchJudgedValue> batch) {
    return batch.stream().map(BatchJudgedValue::value).toList();
  }

  @Test
  void isInTheOrderOfTime() {
    List<BatchJudgedValue> own = List.of(at(1, "a", 1), at(4, "d", 4));
    List<BatchJudgedValue> stored = List.of(at(2, "b", 2), at(3, "c", 3), at(5, "e", 5));
    assertEquals(List.of(1.0, 2.0, 3.0, 4.0, 5.0), values(MergedBatch.of(own, stored)));
    assertEquals(own, MergedBatch.of(own, List.of()));
    assertEquals(stored, MergedBatch.of(List.of(), stored));
  }

  /** Its own runs are in the store, too, where they may have been judged otherwise. */
  @Test
  void aRunThatIsInBothCountsOnceAsTheLogbookHasIt() {
    List<BatchJudgedValue> own = List.of(at(1, "a", 1), at(2, "b", 2));
    List<BatchJudgedValue> stored = List.of(at(1, "a", 11), at(3, "c", 3));
    assertEquals(List.of(1.0, 2.0, 3.0), values(MergedBatch.of(own, stored)));
  }

  @Test
  void ofAUnitThatTwoBenchesTestedTheFirstRunCounts() {
    List<BatchJudgedValue> own = List.of(at(1, "a", 1), at(5, "b", 5));
    List<BatchJudgedValue> stored = List.of(at(2, "a", 2), at(4, "b", 4));
    assertEquals(List.of(1.0, 4.0), values(MergedBatch.of(own, stored)));
  }

  /**
   * How soon a shift of this bench's boards is seen, counted in boards of both benches after it.
   * The charts of one limit that signal falsely once in 500 boards together do so each once in
   * 1000: of cumulative sums with k = 0.5 that is h = 5.76, and 12.0 boards for a shift of one
   * standard deviation (Siegmund's approximation, Sequential Analysis (1985), 2.5: b = h + 1.166, L
   * = (exp(-2 d b) + 2 d b - 1)/(2 d^2) with d = 0.5 for the shifted side: 11.9; from memory). Mean
   * and spread are learnt from 60 boards, which costs some more.
   */
  @Test
  void aShiftIsSeenAsSoonAsTheRunLengthOfTheChartsSays() {
    Random random = new Random(19);
    int series = 400;
    double boards = 0;
    int counted = 0;
    BatchDriftWatch watch = new BatchDriftWatch();
    for (int s = 0; s < series; s++) {
      List<BatchJudgedValue> own = new ArrayList<>();
      List<BatchJudgedValue> stored = new ArrayList<>();
      for (int i = 0; i < 60; i++) {
        (i % 3 == 0 ? own : stored).add(at(i, "u" + i, random.nextGaussian()));
      }
      if (!watch.of(MergedBatch.of(own, stored)).isEmpty()) {
        continue; // a false signal before the shift
      }
      int n = 0;
      do {
        (n % 3 == 0 ? own : stored).add(at(60 + n, "s" + n, 1 + random.nextGaussian()));
        n++;
      } while (watch.of(MergedBatch.of(own, stored)).isEmpty() && n < 500);
      boards += n;
      counted++;
    }
    assertTrue(counted > 300, counted + " of " + series);
    double mean = boards / counted;
    assertTrue(mean > 6 && mean < 1.5 * 12.0, Double.toString(mean));
  }
}
