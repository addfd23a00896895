// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.Optional;

/** Copies a kept file from a logbook into a store; what arrived is hashed again. */
final class FilePublication {
  private FilePublication() {}

  /** Another bench may send the same file at the same time: who is later waits, and finds it. */
  static void send(SqlSession book, SqlSession store, String sha256) throws SQLException {
    long bytes =
        book.one(
                "SELECT bytes FROM file WHERE sha256 = ?",
                slots -> slots.text(sha256),
                SqlQueryRow::whole)
            .orElseThrow();
    Optional<Long> file =
        store.one(
            "INSERT INTO file (sha256, bytes) VALUES (?, ?) ON CONFLICT DO NOTHING RETURNING id",
            slots -> slots.text(sha256).whole(bytes),
            SqlQueryRow::whole);
    if (file.isEmpty()) {
      return;
    }
    Optional<byte[]> kept = FileSqlRows.keptPiece(book, sha256, 0);
    for (int number = 0; kept.isPresent(); number++) {
      FileSqlRows.insertKept(store, file.get(), number, kept.get());
      kept = FileSqlRows.keptPiece(book, sha256, number + 1);
    }
    if (!FileSqlRows.isSound(store, sha256)) {
      throw store
          .engine()
          .refusal(
              "a file that a run was made from is not what its hash says (" + sha256 + ")",
              "Nothing was published. 'millrace show RUN --verify' tells whether the logbook is"
                  + " sound.");
    }
  }
}
