// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.security.MessageDigest;
import java.sql.SQLException;
import java.util.Optional;
import millrace.document.Hashes;

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
    Optional<byte[]> piece = FileSqlRows.piece(book, sha256, 0);
    for (int number = 0; piece.isPresent(); number++) {
      int at = number;
      byte[] content = piece.get();
      store.change(
          "INSERT INTO file_piece (file_id, number, content) VALUES (?, ?, ?)",
          slots -> slots.whole(file.get()).whole(at).bytes(content));
      piece = FileSqlRows.piece(book, sha256, number + 1);
    }
    if (!hash(store, sha256).equals(sha256)) {
      throw store
          .engine()
          .refusal(
              "a file that a run was made from is not what its hash says (" + sha256 + ")",
              "Nothing was published. 'millrace show RUN --verify' tells whether the logbook is"
                  + " sound.");
    }
  }

  private static String hash(SqlSession store, String sha256) throws SQLException {
    MessageDigest hash = Hashes.sha256();
    Optional<byte[]> piece = FileSqlRows.piece(store, sha256, 0);
    for (int number = 1; piece.isPresent(); number++) {
      hash.update(piece.get());
      piece = FileSqlRows.piece(store, sha256, number);
    }
    return Hashes.hex(hash.digest());
  }
}
