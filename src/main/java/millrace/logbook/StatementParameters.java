// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;

/** The question marks of a statement, filled one by one from the left. Single-threaded. */
final class StatementParameters {
  /** What fills one question mark. */
  private interface Fill {
    void into(PreparedStatement statement, int place) throws SQLException;
  }

  private final SqlEngine engine;
  private final List<List<Integer>> places;
  private final PreparedStatement statement;
  private int slot;

  StatementParameters(SqlEngine engine, List<List<Integer>> places, PreparedStatement statement) {
    this.engine = engine;
    this.places = places;
    this.statement = statement;
  }

  /** Fills every place of the next value. */
  private StatementParameters next(Fill fill) throws SQLException {
    int value = slot++;
    if (places.isEmpty()) {
      fill.into(statement, slot);
    } else {
      for (int place : places.get(value)) {
        fill.into(statement, place);
      }
    }
    return this;
  }

  /** Goes back to the first question mark. */
  StatementParameters again() {
    slot = 0;
    return this;
  }

  StatementParameters text(String value) throws SQLException {
    return next((at, place) -> at.setString(place, engine.kept(value)));
  }

  StatementParameters text(Optional<String> value) throws SQLException {
    return value.isPresent() ? text(value.get()) : nothing();
  }

  StatementParameters whole(long value) throws SQLException {
    return next((at, place) -> at.setLong(place, value));
  }

  StatementParameters wholes(List<Long> values) throws SQLException {
    for (long each : values) {
      whole(each);
    }
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
    return next((at, place) -> at.setDouble(place, value));
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
    return next((at, place) -> at.setBytes(place, value));
  }

  StatementParameters nothing() throws SQLException {
    return next((at, place) -> at.setNull(place, Types.NULL));
  }
}
