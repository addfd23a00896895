// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Adds readings to a store in bulk, in the binary form of COPY (PostgreSQL 15 documentation, COPY,
 * "Binary Format"), which a server takes with less work than text: dates as days since 2000-01-01,
 * numbers as their bytes from the highest. Single-threaded.
 */
final class StoreReadingCopy {
  private static final byte[] HEAD = {
    'P', 'G', 'C', 'O', 'P', 'Y', '\n', (byte) 0xff, '\r', '\n', 0, 0, 0, 0, 0, 0, 0, 0, 0
  };
  private static final LocalDate DAY_0 = LocalDate.of(2000, 1, 1);
  private static final int NOTHING = -1;

  private final StoreCopyStream out;
  private final SqlEngine engine;
  private final int columns;
  private final long day;
  private final UUID uuid;
  private boolean begun;

  /**
   * A copy of readings of one run.
   *
   * @param columns their columns, behind those of the key
   */
  StoreReadingCopy(SqlSession store, StoreKey key, List<String> columns) {
    this.out =
        new StoreCopyStream(
            store,
            "COPY reading (month, run_uuid, %s) FROM STDIN (FORMAT binary)"
                .formatted(String.join(", ", columns)));
    this.engine = store.engine();
    this.columns = columns.size() + 2;
    this.day = LocalDate.parse(key.month()).toEpochDay() - DAY_0.toEpochDay();
    this.uuid = UUID.fromString(key.uuid());
  }

  /** Begins a row; the number of fields that follow is that of the columns. */
  StoreReadingCopy row() throws SQLException {
    if (!begun) {
      out.add(HEAD);
      begun = true;
    }
    out.sendMuch();
    out.add(columns, Short.BYTES);
    field(day, Integer.BYTES);
    out.add(Long.BYTES * 2, Integer.BYTES);
    out.add(uuid.getMostSignificantBits(), Long.BYTES);
    out.add(uuid.getLeastSignificantBits(), Long.BYTES);
    return this;
  }

  private void field(long value, int bytes) {
    out.add(bytes, Integer.BYTES);
    out.add(value, bytes);
  }

  /** A field of type BIGINT. */
  StoreReadingCopy whole(long value) {
    field(value, Long.BYTES);
    return this;
  }

  /** A field of type INTEGER. */
  StoreReadingCopy integer(long value) {
    int narrow = Math.toIntExact(value);
    field(narrow, Integer.BYTES);
    return this;
  }

  /** A field of type SMALLINT, of a small number. */
  StoreReadingCopy small(long value) {
    field(value, Short.BYTES);
    return this;
  }

  /** A field of type DOUBLE PRECISION. */
  StoreReadingCopy number(double value) {
    field(Double.doubleToRawLongBits(value), Long.BYTES);
    return this;
  }

  StoreReadingCopy text(@Nullable String text) {
    if (text == null) {
      return nothing();
    }
    byte[] bytes = engine.kept(text).getBytes(StandardCharsets.UTF_8);
    out.add(bytes.length, Integer.BYTES);
    out.add(bytes);
    return this;
  }

  StoreReadingCopy nothing() {
    out.add(NOTHING, Integer.BYTES);
    return this;
  }

  /** Sends the rest, and hears whether all was taken. */
  void end() throws SQLException {
    if (begun) {
      out.add(NOTHING, Short.BYTES);
    }
    out.end();
  }
}
