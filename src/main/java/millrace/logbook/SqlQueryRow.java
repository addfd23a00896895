// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;

/** A row of an answer, read column by column from the left. Single-threaded. */
final class SqlQueryRow {
  private final SqlEngine engine;
  private final ResultSet answer;
  private int column;

  SqlQueryRow(SqlEngine engine, ResultSet answer) {
    this.engine = engine;
    this.answer = answer;
  }

  /** Steps to the next row, to its first column. */
  boolean next() throws SQLException {
    column = 0;
    return answer.next();
  }

  String text() throws SQLException {
    return engine.read(answer.getString(++column));
  }

  Optional<String> maybeText() throws SQLException {
    return Optional.ofNullable(answer.getString(++column)).map(engine::read);
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
