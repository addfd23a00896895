// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.Set;
import java.util.SplittableRandom;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

class DuplicateRowFinderTest {
  /** More than are held in memory. */
  private static final int ROWS = 750_000;

  @Test
  void whatOccurredMoreThanOnceIsFoundOnceAndInOrder() {
    SplittableRandom random = new Seeds(4).stream("rows");
    Set<Long> different = new LinkedHashSet<>();
    while (different.size() < ROWS) {
      different.add(random.nextLong());
    }
    long[] hashes = different.stream().mapToLong(Long::longValue).toArray();
    try (DuplicateRowFinder finder = new DuplicateRowFinder()) {
      for (long hash : hashes) {
        finder.add(hash);
      }
      for (int i : new int[] {0, 7, 7, 70_000, ROWS - 1}) {
        finder.add(hashes[i]);
      }
      long[] expected = {hashes[0], hashes[7], hashes[70_000], hashes[ROWS - 1]};
      Arrays.sort(expected);
      assertArrayEquals(expected, finder.repeated());
    }
  }

  @Test
  void theOutermostHashesAreHashesLikeOthers() {
    try (DuplicateRowFinder finder = new DuplicateRowFinder()) {
      for (long hash : new long[] {Long.MAX_VALUE, -1, Long.MIN_VALUE, 0, -1, Long.MIN_VALUE}) {
        finder.add(hash);
      }
      assertArrayEquals(new long[] {Long.MIN_VALUE, -1}, finder.repeated());
    }
  }

  @Test
  void withoutRowsNothingIsRepeated() {
    try (DuplicateRowFinder finder = new DuplicateRowFinder()) {
      assertTrue(finder.isEmpty());
      assertArrayEquals(new long[0], finder.repeated());
    }
  }
}
