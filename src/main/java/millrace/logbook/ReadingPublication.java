// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** Copies the readings of a run from a logbook into a store, with their channels and groups. */
final class ReadingPublication {
  /** Columns that a reading may be without, after those that each has. */
  private static final List<String> OPTIONAL =
      List.of(
          "value",
          "zero",
          "taken_at",
          "elapsed",
          "u",
          "u_common",
          "u_common_relative",
          "common_group_id",
          "extra");

  private static final List<String> COLUMNS =
      Stream.concat(
              Stream.of("point_id", "number", "channel_id", "state", "raw"), OPTIONAL.stream())
          .toList();

  /** The same, as a file has them: there the wall clock counts from start and elapsed time. */
  private static final List<String> IN_FILE =
      OPTIONAL.stream().map(name -> name.equals("taken_at") ? "clock" : name).toList();

  /** Each column costs a call into the library: the first says which of the others there are. */
  private static final String ROWS =
      "SELECT (r.channel_id << 13) + (r.state << 9)"
          + IntStream.range(0, OPTIONAL.size())
              .mapToObj(i -> " + (r.%s IS NOT NULL) * %s".formatted(IN_FILE.get(i), 1 << i))
              .collect(Collectors.joining())
          + ", p.number, r.number, r.raw, r."
          + String.join(", r.", IN_FILE)
          + PointSqlRows.WITH_READINGS
          + " ORDER BY p.number, r.number";

  private static final int CHANNEL_BITS = 13;
  private static final int STATE_BITS = 9;
  private static final int STATES = 0xf;
  private static final int POINT = 2;
  private static final int NUMBER = 3;
  private static final int RAW = 4;
  private static final int FIRST_OPTIONAL = 5;
  private static final int ELAPSED = FIRST_OPTIONAL + OPTIONAL.indexOf("elapsed");

  private final SqlSession book;
  private final SqlSession store;
  private final long there;
  private final long here;
  private final RunStartNanos start;

  /** Of run {@code there} in the logbook, which is run {@code here} in the store. */
  ReadingPublication(SqlSession book, SqlSession store, long there, long here) {
    this.book = book;
    this.store = store;
    this.there = there;
    this.here = here;
    this.start = new RunStartNanos(book, there);
  }

  void send() throws SQLException {
    Map<Long, Long> channels = numbers("channel", "signal, instrument");
    Map<Long, Long> groups = numbers("common_group", "name, meter_range");
    StoreReadingCopy copy = new StoreReadingCopy(store, StoreKey.of(store, here), COLUMNS);
    try (SqlStatement statement = book.fresh(ROWS)) {
      statement.slots().whole(there);
      try (ResultSet rows = statement.query()) {
        while (rows.next()) {
          long shape = rows.getLong(1);
          copy.row().whole(rows.getLong(POINT)).integer(rows.getLong(NUMBER));
          copy.whole(channels.get(shape >> CHANNEL_BITS)).small(shape >> STATE_BITS & STATES);
          copy.text(reply(rows));
          for (int i = 0; i < OPTIONAL.size(); i++) {
            optional(copy, rows, shape, i, groups);
          }
        }
      }
    }
    copy.end();
  }

  private static String reply(ResultSet rows) throws SQLException {
    return rows.getObject(RAW) instanceof Number format
        ? ReplyFormat.print(format.intValue(), rows.getDouble(FIRST_OPTIONAL))
        : rows.getString(RAW);
  }

  private void optional(
      StoreReadingCopy copy, ResultSet rows, long shape, int which, Map<Long, Long> groups)
      throws SQLException {
    int column = FIRST_OPTIONAL + which;
    if ((shape >> which & 1) == 0) {
      copy.nothing();
      return;
    }
    switch (OPTIONAL.get(which)) {
      case "taken_at" -> copy.whole(start.get() + rows.getLong(ELAPSED) + rows.getLong(column));
      case "elapsed" -> copy.whole(rows.getLong(column));
      case "common_group_id" -> copy.whole(groups.get(rows.getLong(column)));
      case "extra" -> copy.text(rows.getString(column));
      default -> copy.number(rows.getDouble(column));
    }
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
