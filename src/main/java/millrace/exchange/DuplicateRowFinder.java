// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.LongStream;
import millrace.document.csv.CsvFile;

/**
 * Finds rows that are equal in every column, in 8 bytes per row: among ten million different rows,
 * the probability that two count as equal is below 1e-5. Single-threaded.
 */
final class DuplicateRowFinder {
  /** Hashes are kept in pieces: one array of all would be there twice each time it grows. */
  private static final int PIECE = 1 << 16;

  /** Hashes of one beginning are sorted together, so that the copy that is sorted is small. */
  private static final int BEGINNING_BITS = 4;

  private final List<long[]> pieces = new ArrayList<>();
  private int count;

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
    int at = count % PIECE;
    if (at == 0) {
      pieces.add(new long[PIECE]);
    }
    pieces.get(pieces.size() - 1)[at] = hash;
    count++;
  }

  boolean isEmpty() {
    return count == 0;
  }

  /** The hashes that occurred more than once, each once, sorted. This discards the added hashes. */
  long[] repeated() {
    LongStream.Builder found = LongStream.builder();
    for (int beginning = 0; beginning < 1 << BEGINNING_BITS; beginning++) {
      repeated(sorted(beginning), found);
    }
    pieces.clear();
    count = 0;
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

  private long[] sorted(int beginning) {
    long[] some = new long[0];
    int n = 0;
    for (int i = 0; i < count; i++) {
      long hash = pieces.get(i / PIECE)[i % PIECE];
      if (hash >>> (Long.SIZE - BEGINNING_BITS) == beginning) {
        if (n == some.length) {
          some = Arrays.copyOf(some, Math.max(PIECE >> BEGINNING_BITS, n + (n >> 2)));
        }
        some[n++] = hash;
      }
    }
    long[] exactly = n == some.length ? some : Arrays.copyOf(some, n);
    Arrays.sort(exactly);
    return exactly;
  }
}
