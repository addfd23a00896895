// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HexFormat;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.document.Hashes;
import millrace.fault.LogbookException;
import org.jspecify.annotations.Nullable;

/**
 * SHA-256 (FIPS 180-4) over rows, the same in every logbook and store and by every Java.
 *
 * <p>A row is the name of its table and its fields, each behind a tabulator, with a line feed at
 * the end: {@code -} for nothing; {@code n} and its decimal for a whole number; {@code d} and the
 * 16 hexadecimal digits of its bits (IEEE 754, binary64; both zeros as the positive one) for
 * another; {@code t} for a text and {@code b} for bytes, each with the count of bytes (of UTF-8), a
 * colon and the bytes.
 */
final class RowHash {
  private static final int BUFFER = 1 << 16;
  private static final char LAST_ASCII = 0x7f;

  private final MessageDigest hash = Hashes.sha256();
  private final byte[] buffer = new byte[BUFFER];
  private int filled;

  /** Adds every row that a question answers, in its order. */
  RowHash add(SqlSession session, String table, String sql, SqlSession.Filling filling)
      throws SQLException {
    byte[] name = table.getBytes(StandardCharsets.US_ASCII);
    try (SqlStatement statement = session.fresh(sql)) {
      filling.into(statement.slots());
      try (ResultSet rows = statement.query()) {
        int columns = rows.getMetaData().getColumnCount();
        while (rows.next()) {
          begin(name);
          for (int i = 1; i <= columns; i++) {
            field(rows.getObject(i), session.engine());
          }
          end();
        }
      }
    }
    return this;
  }

  /** Adds a line as it is. */
  RowHash line(String text) {
    add((text + "\n").getBytes(StandardCharsets.UTF_8));
    return this;
  }

  /** The hash of all that was added; 64 hexadecimal digits. Nothing is added behind it. */
  String hex() {
    flush();
    return Hashes.hex(hash.digest());
  }

  /** Begins a row of a table. */
  void begin(byte[] table) {
    add(table);
  }

  /** Ends a row. */
  void end() {
    add((byte) '\n');
  }

  /** Adds a field as an engine hands it out. */
  void field(@Nullable Object field, SqlEngine engine) {
    if (field == null) {
      nothing();
    } else if (field instanceof Double number) {
      number(number);
    } else if (field instanceof Number whole) {
      whole(whole.longValue());
    } else if (field instanceof byte[] bytes) {
      ascii("\tb" + bytes.length + ":");
      add(bytes);
    } else {
      text(engine.read(field.toString()).getBytes(StandardCharsets.UTF_8));
    }
  }

  /** Adds a field that is empty. */
  void nothing() {
    ascii("\t-");
  }

  /** Adds a field of a whole number. */
  void whole(long number) {
    ascii("\tn");
    ascii(Long.toString(number));
  }

  /** Adds a field of another number. */
  void number(double number) {
    ascii("\td");
    ascii(bits(number));
  }

  /** Adds a field that may hold a number. */
  void number(OptionalDouble number) {
    if (number.isPresent()) {
      number(number.getAsDouble());
    } else {
      nothing();
    }
  }

  /** Adds a field that may hold a text. */
  void text(Optional<String> text) {
    if (text.isPresent()) {
      text(text.get());
    } else {
      nothing();
    }
  }

  /** Adds a field of text. */
  void text(String text) {
    for (int i = 0; i < text.length(); i++) {
      if (text.charAt(i) > LAST_ASCII) {
        text(text.getBytes(StandardCharsets.UTF_8));
        return;
      }
    }
    ascii("\tt");
    ascii(Integer.toString(text.length()));
    add((byte) ':');
    ascii(text);
  }

  /** Adds a field of text, as UTF-8. */
  void text(byte[] text) {
    ascii("\tt");
    ascii(Integer.toString(text.length));
    add((byte) ':');
    add(text);
  }

  /**
   * A number by its bits.
   *
   * @return 16 hexadecimal digits
   * @throws LogbookException for what is no number, which no logbook holds
   */
  static String bits(double number) {
    if (Double.isNaN(number)) {
      throw new LogbookException(
          "the logbook holds a value that is no number, which Millrace never writes; it was changed"
              + " by something else. Work on with a backup.");
    }
    return HexFormat.of().toHexDigits(number == 0 ? 0 : Double.doubleToRawLongBits(number));
  }

  private void ascii(String text) {
    int length = text.length();
    if (length > buffer.length) {
      add(text.getBytes(StandardCharsets.US_ASCII));
      return;
    }
    if (length > buffer.length - filled) {
      flush();
    }
    for (int i = 0; i < length; i++) {
      buffer[filled + i] = (byte) text.charAt(i);
    }
    filled += length;
  }

  private void add(byte one) {
    if (filled == buffer.length) {
      flush();
    }
    buffer[filled++] = one;
  }

  private void add(byte[] many) {
    if (many.length > buffer.length - filled) {
      flush();
    }
    if (many.length > buffer.length) {
      hash.update(many);
    } else {
      System.arraycopy(many, 0, buffer, filled, many.length);
      filled += many.length;
    }
  }

  private void flush() {
    hash.update(buffer, 0, filled);
    filled = 0;
  }
}
