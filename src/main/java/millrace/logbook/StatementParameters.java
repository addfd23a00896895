// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;

/** The question marks of a statement, filled one by one from the left. Single-threaded. */
final class StatementParameters {
  private final PreparedStatement statement;
  private int slot;

  StatementParameters(PreparedStatement statement) {
    this.statement = statement;
  }

  /** Goes back to the first question mark. */
  StatementParameters again() {
    slot = 0;
    return this;
  }

  StatementParameters text(String value) throws SQLException {
    statement.setString(++slot, value);
    return this;
  }

  StatementParameters text(Optional<String> value) throws SQLException {
    return value.isPresent() ? text(value.get()) : nothing();
  }

  StatementParameters whole(long value) throws SQLException {
    statement.setLong(++slot, value);
    return this;
  }

  StatementParameters whole(OptionalLong value) throws SQLException {
    return value.isPresent() ? whole(value.getAsLong()) : nothing();
  }

  /** SQLite would store not-a-number as NULL, without a reason. */
  StatementParameters number(double value) throws SQLException {
    if (Double.isNaN(value)) {
      throw new IllegalArgumentException("a value that is no number is never stored");
    }
    statement.setDouble(++slot, value);
    return this;
  }

  StatementParameters number(OptionalDouble value) throws SQLException {
    return value.isPresent() ? number(value.getAsDouble()) : nothing();
  }

  StatementParameters instant(Instant value) throws SQLException {
    return whole(TimestampNanos.nanos(value));
  }

  StatementParameters span(Duration value) throws SQLException {
    return whole(value.toNanos());
  }

  StatementParameters bytes(byte[] value) throws SQLException {
    statement.setBytes(++slot, value);
    return this;
  }

  StatementParameters nothing() throws SQLException {
    statement.setNull(++slot, Types.NULL);
    return this;
  }
}
