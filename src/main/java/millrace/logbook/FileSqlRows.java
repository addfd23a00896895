// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.security.MessageDigest;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.zip.DataFormatException;
import millrace.document.Hashes;

/** Rows of the tables {@code file}, {@code file_piece} and {@code run_file}. */
final class FileSqlRows {
  /** Length of one piece, bytes: small files are one piece, large ones never whole in memory. */
  static final int PIECE = 1 << 20;

  private static final String INSERT_PIECE =
      "INSERT INTO file_piece (file_id, number, content) VALUES (?, ?, ?)";

  private FileSqlRows() {}

  /** Stores a small file. */
  static RunInputFile insert(SqlSession session, FileRole role, String name, byte[] content)
      throws SQLException {
    String sha256 = Hashes.sha256(content);
    RunInputFile file = new RunInputFile(role, name, sha256, content.length);
    if (id(session, sha256).isEmpty()) {
      try {
        pieces(session, row(session, file), new ByteArrayInputStream(content));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return file;
  }

  /**
   * Stores a file of any length whose hash and length are already known.
   *
   * @throws IOException if the content cannot be read or is not what was announced
   */
  static void insert(SqlSession session, RunInputFile file, InputStream content)
      throws SQLException, IOException {
    if (id(session, file.sha256()).isPresent()) {
      return;
    }
    String found = pieces(session, row(session, file), content);
    if (!found.equals(file.sha256())) {
      throw new IOException("the file changed while it was read");
    }
  }

  private static long row(SqlSession session, RunInputFile file) throws SQLException {
    return session.insert(
        "INSERT INTO file (sha256, bytes) VALUES (?, ?)",
        slots -> slots.text(file.sha256()).whole(file.bytes()));
  }

  private static String pieces(SqlSession session, long file, InputStream content)
      throws SQLException, IOException {
    MessageDigest hash = Hashes.sha256();
    byte[] piece = content.readNBytes(PIECE);
    for (int number = 0; number == 0 || piece.length > 0; number++) {
      int at = number;
      byte[] now = piece;
      hash.update(now);
      session.change(
          INSERT_PIECE, slots -> slots.whole(file).whole(at).bytes(DeflatedPiece.of(now)));
      piece = content.readNBytes(PIECE);
    }
    return Hashes.hex(hash.digest());
  }

  /** Stores a piece as another logbook keeps it. */
  static void insertKept(SqlSession session, long file, int number, byte[] kept)
      throws SQLException {
    session.change(INSERT_PIECE, slots -> slots.whole(file).whole(number).bytes(kept));
  }

  static void link(SqlSession session, long run, RunInputFile file) throws SQLException {
    long id = id(session, file.sha256()).orElseThrow();
    session.change(
        "INSERT INTO run_file (run_id, file_id, role, name) VALUES (?, ?, ?, ?)",
        slots -> slots.whole(run).whole(id).text(file.role().text()).text(file.name()));
  }

  static Optional<Long> id(SqlSession session, String sha256) throws SQLException {
    return session.one(
        "SELECT id FROM file WHERE sha256 = ?", slots -> slots.text(sha256), SqlQueryRow::whole);
  }

  static List<RunInputFile> list(SqlSession session, long run) throws SQLException {
    return session.list(
        "SELECT l.role, l.name, f.sha256, f.bytes FROM run_file l JOIN file f ON f.id = l.file_id"
            + " WHERE l.run_id = ? ORDER BY l.id",
        slots -> slots.whole(run),
        row ->
            new RunInputFile(
                StoredEnumWords.known(FileRole.class, row.text()),
                row.text(),
                row.text(),
                row.whole()));
  }

  /** One piece of a file as it is kept, from 0; empty behind the last. */
  static Optional<byte[]> keptPiece(SqlSession session, String sha256, int number)
      throws SQLException {
    return session.one(
        "SELECT p.content FROM file f JOIN file_piece p ON p.file_id = f.id"
            + " WHERE f.sha256 = ? AND p.number = ?",
        slots -> slots.text(sha256).whole(number),
        SqlQueryRow::bytes);
  }

  /** The content of one piece of a file, from 0; empty behind the last. */
  static Optional<byte[]> piece(SqlSession session, String sha256, int number) throws SQLException {
    Optional<byte[]> kept = keptPiece(session, sha256, number);
    try {
      return kept.isPresent() ? Optional.of(DeflatedPiece.content(kept.get())) : kept;
    } catch (DataFormatException e) {
      throw session
          .engine()
          .foreign(new IllegalArgumentException("a kept file that cannot be unpacked", e));
    }
  }

  /** Whether the content of a file is what its hash says. */
  static boolean isSound(SqlSession session, String sha256) throws SQLException {
    MessageDigest hash = Hashes.sha256();
    try {
      Optional<byte[]> kept = keptPiece(session, sha256, 0);
      for (int number = 1; kept.isPresent(); number++) {
        hash.update(DeflatedPiece.content(kept.get()));
        kept = keptPiece(session, sha256, number);
      }
      return Hashes.hex(hash.digest()).equals(sha256);
    } catch (DataFormatException e) {
      return false;
    }
  }
}
