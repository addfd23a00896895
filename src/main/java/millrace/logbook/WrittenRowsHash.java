// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.BiConsumer;
import millrace.time.BackgroundThreads;

/**
 * A digest of rows, computed while they are written, so that they need not be read back. It says
 * nothing once it was told that it could differ, or if anything was rolled back. One thread calls
 * it; rows are hashed in another, piece after piece, while more are written.
 */
final class WrittenRowsHash<T> {
  /** Rows that are hashed at a time: at most twice as many are in memory. */
  private static final int PIECE = 2000;

  private final SqlSession session;
  private final long rolledBack;
  private final BiConsumer<RowHash, T> fields;
  private final RowHash hash = new RowHash();
  private List<T> waiting = new ArrayList<>();
  private CompletableFuture<Void> hashing = CompletableFuture.completedFuture(null);
  private boolean sure = true;

  /**
   * Begins before the first row.
   *
   * @param fields hashes one row; called in another thread
   */
  WrittenRowsHash(SqlSession session, BiConsumer<RowHash, T> fields) {
    this.session = session;
    this.rolledBack = session.rollBacks();
    this.fields = fields;
  }

  /** From now on it says nothing. */
  void unsure() {
    sure = false;
    waiting.clear();
  }

  /** Adds a row as it is written, in the order of the digest. */
  void add(T row) {
    if (!sure) {
      return;
    }
    waiting.add(row);
    if (waiting.size() == PIECE) {
      handOver();
    }
  }

  private void handOver() {
    BackgroundThreads.joined(hashing);
    List<T> piece = waiting;
    waiting = new ArrayList<>(PIECE);
    hashing =
        CompletableFuture.runAsync(
            () -> piece.forEach(row -> fields.accept(hash, row)), BackgroundThreads.aside());
  }

  /** Whether a text is hashed as a database would hand it out: none ends it before its end. */
  static boolean isPlain(String text) {
    return text.indexOf('\0') < 0;
  }

  /** The digest of the rows; empty where it is to be computed of what was written. */
  Optional<String> hex() {
    if (!sure || session.rollBacks() != rolledBack) {
      return Optional.empty();
    }
    handOver();
    BackgroundThreads.joined(hashing);
    return Optional.of(hash.hex());
  }
}
