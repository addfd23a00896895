// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.Arrays;
import java.util.stream.LongStream;
import millrace.document.csv.CsvFile;

/**
 * Finds rows that are equal in every column by a hash of 64 bits of each: among ten million
 * different rows, the probability that two count as equal is below 1e-5. What it holds in memory
 * does not grow with the rows. Single-threaded; close it.
 */
final class DuplicateRowFinder implements AutoCloseable {
  /** Hashes of one beginning are sorted together, so that what is sorted at a time is small. */
  private static final int BEGINNING_BITS = 6;

  private final GroupedHashes groups = new GroupedHashes(1 << BEGINNING_BITS);

  /** A hash of all fields of the present row of the file (Fowler-Noll-Vo, then mixed). */
  static long of(CsvFile csv) {
    long h = 0xcbf29ce484222325L;
    for (int column = 0; column < csv.header().size(); column++) {
      String field = csv.field(column);
      for (int i = 0; i < field.length(); i++) {
        h = (h ^ field.charAt(i)) * 0x100000001b3L;
      }
      h = (h ^ 0x1ffff) * 0x100000001b3L;
    }
    h = (h ^ (h >>> 33)) * 0xff51afd7ed558ccdL;
    return h ^ (h >>> 33);
  }

  void add(long hash) {
    groups.add((int) (hash >>> (Long.SIZE - BEGINNING_BITS)), hash);
  }

  boolean isEmpty() {
    return groups.isEmpty();
  }

  /** The hashes that occurred more than once, each once, sorted. */
  long[] repeated() {
    LongStream.Builder found = LongStream.builder();
    for (int beginning = 0; beginning < 1 << BEGINNING_BITS; beginning++) {
      long[] sorted = groups.group(beginning);
      Arrays.sort(sorted);
      repeated(sorted, found);
    }
    return found.build().sorted().toArray();
  }

  private static void repeated(long[] sorted, LongStream.Builder found) {
    for (int i = 1; i < sorted.length; i++) {
      boolean again = sorted[i] == sorted[i - 1];
      boolean known = i > 1 && sorted[i - 2] == sorted[i];
      if (again && !known) {
        found.add(sorted[i]);
      }
    }
  }

  @Override
  public void close() {
    groups.close();
  }
}
