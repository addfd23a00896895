// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import org.jspecify.annotations.Nullable;

/**
 * The digest of a run's readings as a file holds them ({@link RunDigest.Part#READING}), over
 * replies and times in full. A reply whose number or format was taken from it enters with what is
 * left, so that the digest does not fit. Single-threaded.
 */
final class FileReadingHash {
  /** Fields of a reading in the order of the digest. */
  static final String QUESTION =
      "SELECT p.number, r.number, c.signal, c.instrument, r.state, r.value, r.zero, r.raw,"
          + " u.started_at + coalesce(r.elapsed, 0) + r.clock, r.elapsed, r.u, r.u_common,"
          + " r.u_common_relative, g.name, g.meter_range, r.extra"
          + " FROM run u JOIN point p ON p.run_id = u.id JOIN reading r ON r.point_id = p.id"
          + " JOIN channel c ON c.id = r.channel_id"
          + " LEFT JOIN common_group g ON g.id = r.common_group_id WHERE u.id = ?"
          + " ORDER BY p.number, r.number";

  private static final int FIELDS = 16;
  private static final int VALUE = 6;
  private static final int RAW = 8;
  private static final byte[] NAME = "reading".getBytes(StandardCharsets.US_ASCII);

  private FileReadingHash() {}

  /** The digest; 64 hexadecimal digits. */
  static String of(SqlSession session, long run) throws SQLException {
    RowHash hash = new RowHash();
    try (SqlStatement statement = session.fresh(QUESTION)) {
      statement.slots().whole(run);
      try (ResultSet rows = statement.query()) {
        while (rows.next()) {
          hash.begin(NAME);
          for (int i = 1; i <= FIELDS; i++) {
            Object field = rows.getObject(i);
            hash.field(i == RAW ? reply(field, rows) : field, session.engine());
          }
          hash.end();
        }
      }
    }
    return hash.hex();
  }

  private static @Nullable Object reply(@Nullable Object raw, ResultSet rows) throws SQLException {
    return raw instanceof Number format && rows.getObject(VALUE) instanceof Number value
        ? ReplyFormat.print(format.intValue(), value.doubleValue())
        : raw;
  }
}
