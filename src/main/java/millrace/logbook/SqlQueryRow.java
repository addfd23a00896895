// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;

/** A row of an answer, read column by column from the left. Single-threaded. */
final class SqlQueryRow {
  private final SqlEngine engine;
  private final ResultSet answer;
  private final RepeatedTexts known;

  /** By column, which is asked once for all rows: 0 not yet, 1 a text as bytes, 2 anything else. */
  private byte[] kinds = new byte[16];

  private int column;

  SqlQueryRow(SqlEngine engine, ResultSet answer, RepeatedTexts known) {
    this.engine = engine;
    this.answer = answer;
    this.known = known;
  }

  /** Steps to the next row, to its first column. */
  boolean next() throws SQLException {
    column = 0;
    return answer.next();
  }

  /** Steps over columns without a look. */
  void skip(int columns) {
    column += columns;
  }

  String text() throws SQLException {
    return maybeText().orElseThrow(() -> new IllegalArgumentException("a text is missing"));
  }

  Optional<String> maybeText() throws SQLException {
    column++;
    if (givesUtf8()) {
      return Optional.ofNullable(answer.getBytes(column)).map(b -> known.of(b, engine::read));
    }
    return Optional.ofNullable(answer.getString(column)).map(engine::read);
  }

  private boolean givesUtf8() throws SQLException {
    if (column >= kinds.length) {
      kinds = Arrays.copyOf(kinds, 2 * column);
    }
    if (kinds[column] == 0) {
      kinds[column] = (byte) (engine.givesUtf8(answer, column) ? 1 : 2);
    }
    return kinds[column] == 1;
  }

  long whole() throws SQLException {
    return answer.getLong(++column);
  }

  OptionalLong maybeWhole() throws SQLException {
    long value = answer.getLong(++column);
    return value == 0 && answer.wasNull() ? OptionalLong.empty() : OptionalLong.of(value);
  }

  double number() throws SQLException {
    return answer.getDouble(++column);
  }

  OptionalDouble maybeNumber() throws SQLException {
    double value = answer.getDouble(++column);
    return value == 0 && answer.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  Instant instant() throws SQLException {
    return TimestampNanos.instant(whole());
  }

  Optional<Instant> maybeInstant() throws SQLException {
    OptionalLong nanos = maybeWhole();
    return nanos.isPresent()
        ? Optional.of(TimestampNanos.instant(nanos.getAsLong()))
        : Optional.empty();
  }

  Duration span() throws SQLException {
    return Duration.ofNanos(whole());
  }

  Optional<Duration> maybeSpan() throws SQLException {
    OptionalLong nanos = maybeWhole();
    return nanos.isPresent() ? Optional.of(Duration.ofNanos(nanos.getAsLong())) : Optional.empty();
  }

  byte[] bytes() throws SQLException {
    return answer.getBytes(++column);
  }
}
