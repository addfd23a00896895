// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;

/**
 * Adds rows to a table of a store in bulk, in the text form of COPY (PostgreSQL 15 documentation,
 * COPY, "Text Format"): fields between tabulators, {@code \N} for nothing. The server is asked only
 * when there are rows. Single-threaded.
 */
final class StoreCopy {
  private static final int FLUSH = 1 << 16;

  private final SqlSession store;
  private final String sql;
  private byte[] buffer = new byte[2 * FLUSH];
  private int filled;
  private int rowBegan;
  private @Nullable CopyIn copy;

  StoreCopy(SqlSession store, String table, List<String> columns) {
    this.store = store;
    this.sql =
        "COPY \"%s\" (%s) FROM STDIN"
            .formatted(
                table,
                columns.stream()
                    .map(column -> '"' + column.toLowerCase(Locale.ROOT) + '"')
                    .collect(Collectors.joining(", ")));
  }

  /**
   * Copies the rows that a logbook answers.
   *
   * @param question whose columns are named as in the table
   * @param before columns in front of those, with the value that they have in every row
   */
  static void all(SqlSession store, String table, Question question, List<Column> before)
      throws SQLException {
    try (SqlStatement statement = question.asked();
        ResultSet answer = statement.query()) {
      int count = answer.getMetaData().getColumnCount();
      List<String> names = new ArrayList<>(before.stream().map(Column::name).toList());
      for (int i = 1; i <= count; i++) {
        names.add(answer.getMetaData().getColumnLabel(i));
      }
      StoreCopy copy = new StoreCopy(store, table, names);
      while (answer.next()) {
        before.forEach(each -> copy.field(each.value()));
        for (int i = 1; i <= count; i++) {
          copy.field(answer.getObject(i));
        }
        copy.row();
      }
      copy.end();
    }
  }

  /**
   * A question to a logbook.
   *
   * @param book what is asked
   * @param sql with its places
   * @param filling of them
   */
  record Question(SqlSession book, String sql, SqlSession.Filling filling) {
    /** The statement, filled. */
    SqlStatement asked() throws SQLException {
      SqlStatement statement = book.fresh(sql);
      filling.into(statement.slots());
      return statement;
    }
  }

  /**
   * A column that is the same in every row.
   *
   * @param name its name
   * @param value what it holds
   */
  record Column(String name, @Nullable Object value) {}

  /** Adds a field to the row. */
  StoreCopy field(@Nullable Object value) {
    if (filled > rowBegan) {
      add((byte) '\t');
    }
    if (value == null) {
      add((byte) '\\');
      add((byte) 'N');
    } else if (value instanceof byte[] bytes) {
      escaped("\\x" + HexFormat.of().formatHex(bytes));
    } else if (value instanceof Number) {
      ascii(value.toString());
    } else {
      escaped(store.engine().kept(value.toString()));
    }
    return this;
  }

  /** Adds a whole number to the row. */
  StoreCopy whole(long value) {
    if (filled > rowBegan) {
      add((byte) '\t');
    }
    ascii(Long.toString(value));
    return this;
  }

  private void ascii(String text) {
    room(text.length());
    for (int i = 0; i < text.length(); i++) {
      buffer[filled++] = (byte) text.charAt(i);
    }
  }

  private void escaped(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    room(2 * bytes.length);
    for (byte each : bytes) {
      switch (each) {
        case '\\' -> escape('\\');
        case '\t' -> escape('t');
        case '\n' -> escape('n');
        case '\r' -> escape('r');
        default -> buffer[filled++] = each;
      }
    }
  }

  private void escape(char letter) {
    buffer[filled++] = '\\';
    buffer[filled++] = (byte) letter;
  }

  private void add(byte one) {
    room(1);
    buffer[filled++] = one;
  }

  private void room(int more) {
    if (filled + more > buffer.length) {
      buffer = Arrays.copyOf(buffer, Math.max(2 * buffer.length, filled + more));
    }
  }

  /** Ends the row. */
  void row() throws SQLException {
    add((byte) '\n');
    if (filled >= FLUSH) {
      flush();
    }
    rowBegan = filled;
  }

  private void flush() throws SQLException {
    CopyIn to = copy;
    if (to == null) {
      to = store.connection().unwrap(PGConnection.class).getCopyAPI().copyIn(sql);
      copy = to;
    }
    to.writeToCopy(buffer, 0, filled);
    filled = 0;
  }

  /** Sends the rest, and hears whether all was taken. */
  void end() throws SQLException {
    if (filled > 0) {
      flush();
    }
    if (copy != null) {
      copy.endCopy();
    }
  }
}
