package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.OptionalLong;
import millrace.document.Hashes;
import millrace.quantity.Numbers;
import org.jspecify.annotations.Nullable;

/**
 * The digest of a run: SHA-256 over its point, reading, incident and file rows, the same in every
 * logbook that holds the run.
 *
 * <p>Tables come in that order, rows in the order of their numbers, columns in the order of the
 * schema without local keys: a reading enters with the number of its point and with its channel and
 * group in words, a file with its hash instead of its content. A row is the name of its table and
 * its fields, each behind a tabulator, with a line feed at the end: {@code -} for nothing, {@code
 * n} and a decimal (the shortest that reads back) for a number, {@code t}, the count of UTF-8
 * bytes, a colon and the bytes for a text.
 */
final class Digest {
  private static final int BUFFER = 1 << 16;

  /** A table with the question for its rows. */
  private record Table(String name, String sql) {}

  private static final List<Table> TABLES =
      List.of(
          new Table(
              "point",
              "SELECT number, key, kind, \"range\", nominal_A, temperature_degC, load_ohm,"
                  + " terminal_voltage_V, supply_V, set_A, direction, slot, visit, state, reason,"
                  + " started, ended, settings FROM point WHERE run_id = ? ORDER BY number"),
          new Table(
              "reading",
              "SELECT p.number, r.number, c.signal, c.instrument, r.state, r.value, r.zero, r.raw,"
                  + " r.taken_at, r.elapsed, r.u, r.u_common, r.u_common_relative, g.name,"
                  + " g.meter_range, r.extra FROM point p JOIN reading r ON r.point_id = p.id"
                  + " JOIN channel c ON c.id = r.channel_id"
                  + " LEFT JOIN common_group g ON g.id = r.common_group_id"
                  + " WHERE p.run_id = ? ORDER BY p.number, r.number"),
          new Table(
              "incident",
              "SELECT kind, point_key, text, at, elapsed FROM incident WHERE run_id = ?"
                  + " ORDER BY id"),
          new Table(
              "file",
              "SELECT l.role, l.name, f.sha256, f.bytes FROM run_file l"
                  + " JOIN file f ON f.id = l.file_id WHERE l.run_id = ? ORDER BY l.id"));

  private final MessageDigest hash = Hashes.sha256();
  private final byte[] buffer = new byte[BUFFER];
  private int filled;

  private Digest() {}

  /** Computes the digest of a run as it stands; 64 hexadecimal digits. */
  static String of(Session session, long run) throws SQLException {
    Digest digest = new Digest();
    for (Table table : TABLES) {
      digest.add(session, table, OptionalLong.of(run));
    }
    digest.flush();
    return Hashes.hex(digest.hash.digest());
  }

  /** The digest of every row of every table but {@code seal}; 64 hexadecimal digits. */
  static String ofAll(Session session) throws SQLException {
    Digest digest = new Digest();
    List<String> names =
        session.list(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
                + " AND name <> 'seal' ORDER BY name",
            slots -> {}, Row::text);
    for (String name : names) {
      Table table = new Table(name, "SELECT * FROM \"" + name + "\" ORDER BY 1, 2");
      digest.add(session, table, OptionalLong.empty());
    }
    digest.flush();
    return Hashes.hex(digest.hash.digest());
  }

  private void add(Session session, Table table, OptionalLong run) throws SQLException {
    byte[] name = table.name().getBytes(StandardCharsets.US_ASCII);
    try (PreparedStatement statement = session.fresh(table.sql())) {
      if (run.isPresent()) {
        statement.setLong(1, run.getAsLong());
      }
      try (ResultSet rows = statement.executeQuery()) {
        int columns = rows.getMetaData().getColumnCount();
        while (rows.next()) {
          add(name);
          for (int i = 1; i <= columns; i++) {
            add(rows.getObject(i));
          }
          add((byte) '\n');
        }
      }
    }
  }

  private void add(@Nullable Object field) {
    add((byte) '\t');
    if (field == null) {
      add((byte) '-');
    } else if (field instanceof Double number) {
      number(Numbers.print(number));
    } else if (field instanceof Number whole) {
      number(whole.toString());
    } else if (field instanceof byte[] bytes) {
      ascii("b" + bytes.length + ":");
      add(bytes);
    } else {
      byte[] text = field.toString().getBytes(StandardCharsets.UTF_8);
      ascii("t" + text.length + ":");
      add(text);
    }
  }

  private void number(String decimal) {
    add((byte) 'n');
    ascii(decimal);
  }

  private void ascii(String text) {
    for (int i = 0; i < text.length(); i++) {
      add((byte) text.charAt(i));
    }
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
