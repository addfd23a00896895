// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Copies the readings of a run from a logbook into a store, with their channels and groups. */
final class ReadingPublication {
  private static final String ROWS =
      "SELECT p.number, r.number, r.channel_id, r.state, r.value, r.zero, r.raw, r.taken_at,"
          + " r.elapsed, r.u, r.u_common, r.u_common_relative, r.common_group_id, r.extra"
          + PointSqlRows.WITH_READINGS
          + " ORDER BY p.number, r.number";

  private static final List<String> COLUMNS =
      List.of(
          "month",
          "run_uuid",
          "point_id",
          "number",
          "channel_id",
          "state",
          "value",
          "zero",
          "raw",
          "taken_at",
          "elapsed",
          "u",
          "u_common",
          "u_common_relative",
          "common_group_id",
          "extra");

  private static final int CHANNEL = 3;
  private static final int GROUP = 13;
  private static final int LAST = 14;

  private final SqlSession book;
  private final SqlSession store;
  private final long there;
  private final long here;

  /** Of run {@code there} in the logbook, which is run {@code here} in the store. */
  ReadingPublication(SqlSession book, SqlSession store, long there, long here) {
    this.book = book;
    this.store = store;
    this.there = there;
    this.here = here;
  }

  void send() throws SQLException {
    Map<Long, Long> channels = numbers("channel", "signal, instrument");
    Map<Long, Long> groups = numbers("common_group", "name, meter_range");
    StoreKey key = StoreKey.of(store, here);
    StoreCopy copy = new StoreCopy(store, "reading", COLUMNS);
    try (SqlStatement statement = book.fresh(ROWS)) {
      statement.slots().whole(there);
      try (ResultSet rows = statement.query()) {
        while (rows.next()) {
          copy.field(key.month()).field(key.uuid());
          for (int i = 1; i <= LAST; i++) {
            copy.field(
                i == CHANNEL || i == GROUP ? of(i, rows, channels, groups) : rows.getObject(i));
          }
          copy.row();
        }
      }
    }
    copy.end();
  }

  private static @Nullable Object of(
      int column, ResultSet rows, Map<Long, Long> channels, Map<Long, Long> groups)
      throws SQLException {
    long id = rows.getLong(column);
    return rows.wasNull() ? null : (column == CHANNEL ? channels : groups).get(id);
  }

  /** Copies the rows of a table of the run; their numbers in the store by those in the logbook. */
  private Map<Long, Long> numbers(String table, String columns) throws SQLException {
    StoreCopy.all(
        store,
        table,
        new StoreCopy.Question(
            book,
            "SELECT " + columns + " FROM " + table + " WHERE run_id = ? ORDER BY id",
            slots -> slots.whole(there)),
        List.of(new StoreCopy.Column("run_id", here)));
    List<Long> before = ids(book, table, there);
    List<Long> now = ids(store, table, here);
    Map<Long, Long> numbers = new HashMap<>();
    for (int i = 0; i < before.size(); i++) {
      numbers.put(before.get(i), now.get(i));
    }
    return numbers;
  }

  private static List<Long> ids(SqlSession session, String table, long run) throws SQLException {
    return session.list(
        "SELECT id FROM " + table + " WHERE run_id = ? ORDER BY id",
        slots -> slots.whole(run),
        SqlQueryRow::whole);
  }
}
