// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.List;

/** Rows of the table {@code remark}. */
final class RemarkSqlRows {
  private RemarkSqlRows() {}

  /** Adds a remark; its number. */
  static long insert(SqlSession session, long run, Remark remark) throws SQLException {
    return session.insert(
        "INSERT INTO remark (run_id, point_number, kind, text, author, written_at)"
            + " VALUES (?, ?, ?, ?, ?, ?)",
        slots -> {
          slots.whole(run).whole(remark.point()).text(remark.kind().text()).text(remark.text());
          slots.text(remark.author()).instant(remark.writtenAt());
        });
  }

  static List<Remark> list(SqlSession session, long run) throws SQLException {
    return session.list(
        "SELECT kind, point_number, text, author, written_at FROM remark WHERE run_id = ?"
            + " ORDER BY id",
        slots -> slots.whole(run),
        row ->
            new Remark(
                StoredEnumWords.known(RemarkKind.class, row.text()),
                row.maybeWhole(),
                row.text(),
                row.text(),
                row.instant()));
  }
}
