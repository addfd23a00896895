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
final class StatementSlots {
  private final PreparedStatement statement;
  private int slot;

  StatementSlots(PreparedStatement statement) {
    this.statement = statement;
  }

  /** Goes back to the first question mark. */
  StatementSlots again() {
    slot = 0;
    return this;
  }

  StatementSlots text(String value) throws SQLException {
    statement.setString(++slot, value);
    return this;
  }

  StatementSlots text(Optional<String> value) throws SQLException {
    return value.isPresent() ? text(value.get()) : nothing();
  }

  StatementSlots whole(long value) throws SQLException {
    statement.setLong(++slot, value);
    return this;
  }

  StatementSlots whole(OptionalLong value) throws SQLException {
    return value.isPresent() ? whole(value.getAsLong()) : nothing();
  }

  /** A number that is none would be stored as nothing, and nobody would know why. */
  StatementSlots number(double value) throws SQLException {
    if (Double.isNaN(value)) {
      throw new IllegalArgumentException("a value that is no number is never stored");
    }
    statement.setDouble(++slot, value);
    return this;
  }

  StatementSlots number(OptionalDouble value) throws SQLException {
    return value.isPresent() ? number(value.getAsDouble()) : nothing();
  }

  StatementSlots instant(Instant value) throws SQLException {
    return whole(Stamps.nanos(value));
  }

  StatementSlots span(Duration value) throws SQLException {
    return whole(value.toNanos());
  }

  StatementSlots bytes(byte[] value) throws SQLException {
    statement.setBytes(++slot, value);
    return this;
  }

  StatementSlots nothing() throws SQLException {
    statement.setNull(++slot, Types.NULL);
    return this;
  }
}
