// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * Adds many rows to a table of a file by few statements of many rows each: a call into the library
 * for every row costs as much as the row. Single-threaded; what it took is in the table once it is
 * flushed.
 */
final class BulkInsert {
  /** Rows of one statement; with more of them none is faster. */
  private static final int ROWS = 40;

  private final SqlSession session;
  private final String one;
  private final String many;
  private final List<SqlSession.Filling> waiting = new ArrayList<>(ROWS);

  /**
   * Into columns of a table.
   *
   * @param columns their names, in the order in which a row is filled
   */
  BulkInsert(SqlSession session, String table, List<String> columns) {
    this(session, table, columns, Collections.nCopies(columns.size(), "?"));
  }

  /**
   * Into columns of a table, of which some are found by what fills a row.
   *
   * @param columns their names, in the order in which a row is filled
   * @param places what stands for each, with one question mark
   */
  BulkInsert(SqlSession session, String table, List<String> columns, List<String> places) {
    String row = "(" + String.join(", ", places) + ")";
    String into = "INSERT INTO " + table + " (" + String.join(", ", columns) + ") VALUES ";
    this.session = session;
    this.one = into + row;
    this.many = into + String.join(", ", Collections.nCopies(ROWS, row));
  }

  /**
   * Adds a row.
   *
   * @param row fills it, now or later
   */
  void add(SqlSession.Filling row) throws SQLException {
    waiting.add(row);
    if (waiting.size() == ROWS) {
      session.change(
          many,
          slots -> {
            for (SqlSession.Filling each : waiting) {
              each.into(slots);
            }
          });
      waiting.clear();
    }
  }

  /** Adds the rows that wait for others. */
  void flush() throws SQLException {
    for (SqlSession.Filling each : waiting) {
      session.change(one, each);
    }
    waiting.clear();
  }

  /** Leaves out the rows that wait: their transaction was rolled back. */
  void forget() {
    waiting.clear();
  }
}
