// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Adds rows to a table of a store in bulk, in the text form of COPY (PostgreSQL 15 documentation,
 * COPY, "Text Format"): fields between tabulators, {@code \N} for nothing. The server is asked only
 * when there are rows. Single-threaded.
 */
final class StoreCopy {
  private final SqlSession store;
  private final StoreCopyStream out;
  private boolean first = true;

  StoreCopy(SqlSession store, String table, List<String> columns) {
    this.store = store;
    this.out =
        new StoreCopyStream(
            store,
            "COPY \"%s\" (%s) FROM STDIN"
                .formatted(
                    table,
                    columns.stream()
                        .map(column -> '"' + column.toLowerCase(Locale.ROOT) + '"')
                        .collect(Collectors.joining(", "))));
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
    if (!first) {
      out.add((byte) '\t');
    }
    first = false;
    if (value == null) {
      out.ascii("\\N");
    } else if (value instanceof byte[] bytes) {
      escaped("\\x" + HexFormat.of().formatHex(bytes));
    } else if (value instanceof Number) {
      out.ascii(value.toString());
    } else {
      escaped(store.engine().kept(value.toString()));
    }
    return this;
  }

  private void escaped(String text) {
    for (byte each : text.getBytes(StandardCharsets.UTF_8)) {
      switch (each) {
        case '\\' -> out.ascii("\\\\");
        case '\t' -> out.ascii("\\t");
        case '\n' -> out.ascii("\\n");
        case '\r' -> out.ascii("\\r");
        default -> out.add(each);
      }
    }
  }

  /** Ends the row. */
  void row() throws SQLException {
    out.add((byte) '\n');
    out.sendMuch();
    first = true;
  }

  /** Sends the rest, and hears whether all was taken. */
  void end() throws SQLException {
    out.end();
  }
}
