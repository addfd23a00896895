// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;

/**
 * Bytes on their way to a COPY of a store. The server is asked only when there are rows.
 * Single-threaded.
 */
final class StoreCopyStream {
  private static final int FLUSH = 1 << 16;

  private final SqlSession store;
  private final String sql;
  private byte[] buffer = new byte[1 << 10];
  private int filled;
  private @Nullable CopyIn copy;

  /**
   * A stream that is not begun.
   *
   * @param sql the statement that it goes to
   */
  StoreCopyStream(SqlSession store, String sql) {
    this.store = store;
    this.sql = sql;
  }

  private void room(int more) {
    if (filled + more > buffer.length) {
      buffer = Arrays.copyOf(buffer, Math.max(2 * buffer.length, filled + more));
    }
  }

  void add(byte one) {
    room(1);
    buffer[filled++] = one;
  }

  void add(byte[] many) {
    room(many.length);
    System.arraycopy(many, 0, buffer, filled, many.length);
    filled += many.length;
  }

  /** Adds the lowest bytes of a number, the highest of them first. */
  void add(long number, int bytes) {
    room(bytes);
    for (int i = bytes - 1; i >= 0; i--) {
      buffer[filled++] = (byte) (number >> (8 * i));
    }
  }

  void ascii(String text) {
    room(text.length());
    for (int i = 0; i < text.length(); i++) {
      buffer[filled++] = (byte) text.charAt(i);
    }
  }

  /** Sends what there is, if that is much; between two rows. */
  void sendMuch() throws SQLException {
    if (filled >= FLUSH) {
      send();
    }
  }

  private void send() throws SQLException {
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
      send();
    }
    if (copy != null) {
      copy.endCopy();
    }
  }
}
