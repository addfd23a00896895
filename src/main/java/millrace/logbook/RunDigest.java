// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * The digest of a run: SHA-256 over the digests of its parts, the same in every logbook that holds
 * the run. What was measured, of what, by whom, with what and when is all in it; what was made of
 * it later is in its {@link RunSealChain}.
 *
 * <p>Rows stand in the order of their numbers, columns in the order of the schema without local
 * keys: a reading enters with the number of its point and with its channel and group in words, a
 * file with its hash instead of its content ({@link RowHash}).
 */
final class RunDigest {
  /** What a digest begins with, so that one of another form is never taken for it. */
  private static final String HEAD = "millrace digest 1";

  /** A part of a run that can be told apart where something does not fit. */
  enum Part {
    /** Which run of which unit. */
    RUN(
        "run",
        "its identity (unit, operator, batch, tag, origin, start, version)",
        "SELECT uuid, unit, origin, title, operator, batch, tag, seed, virtual_time, millrace,"
            + " started_at, utc_offset_s FROM run WHERE id = ?"),
    /** How it ended. */
    END(
        "end",
        "how it ended (state, time, remark)",
        "SELECT state, ended_at, remark FROM run WHERE id = ?"),
    /** What else is known. */
    FACT("fact", "its facts", "SELECT name, value FROM fact WHERE run_id = ? ORDER BY name"),
    /** Fixture and cables. */
    SETUP(
        "setup",
        "its set-up",
        "SELECT s.fixture, s.cables, s.remark FROM run r JOIN setup s ON s.id = r.setup_id"
            + " WHERE r.id = ?"),
    /** Instruments. */
    INSTRUMENT(
        "instrument",
        "its instruments and their certificates",
        "SELECT name, roles, driver, address, identity, serial, laboratory, certificate,"
            + " calibrated_on, due_on, since_at FROM instrument WHERE run_id = ? ORDER BY id"),
    /** Files. */
    FILE(
        "file",
        "the files that it was made from",
        "SELECT l.role, l.name, f.sha256, f.bytes FROM run_file l"
            + " JOIN file f ON f.id = l.file_id WHERE l.run_id = ? ORDER BY l.id"),
    /** Changes of its plan. */
    PLAN_CHANGE(
        "plan_change",
        "the changes of its plan",
        "SELECT kind, text, reason, who, at, elapsed FROM plan_change WHERE run_id = ?"
            + " ORDER BY id"),
    /** Steps. */
    STEP(
        "step",
        "its steps",
        "SELECT key, what, started, ended, outcome FROM step WHERE run_id = ? ORDER BY id"),
    /** Points. */
    POINT(
        "point",
        "its points",
        "SELECT number, place, part, key, kind, \"range\", nominal_A, temperature_degC, load_ohm,"
            + " terminal_voltage_V, supply_V, set_A, direction, slot, visit, state, reason,"
            + " started, ended, "
            + PointSqlRows.SETTINGS.formatted("", "")
            + " FROM point"
            + PointSqlRows.OF_RUN
            + " ORDER BY number"),
    /** Readings. */
    READING("reading", "its readings", FileReadingHash.QUESTION),
    /** Incidents. */
    INCIDENT(
        "incident",
        "its incidents",
        "SELECT kind, point_key, text, at, elapsed FROM incident WHERE run_id = ?"
            + " ORDER BY id");

    private final String table;
    private final String words;
    private final String sql;

    Part(String table, String words, String sql) {
      this.table = table;
      this.words = words;
      this.sql = sql;
    }

    /** What a person calls it. */
    String words() {
      return words;
    }

    /** The name of its table. */
    String table() {
      return table;
    }

    /** What asks for its rows, of the run whose number fills its place. */
    String question() {
      return sql;
    }

    /** Its digest in a run as it stands. */
    String of(SqlSession session, long run) throws SQLException {
      if (this == READING) {
        return session.engine().store().isPresent()
            ? StoreReadingHash.of(session, run)
            : FileReadingHash.of(session, run);
      }
      return new RowHash().add(session, table, sql, slots -> slots.whole(run)).hex();
    }
  }

  private RunDigest() {}

  /** The digest of each part of a run as it stands. */
  static Map<Part, String> parts(SqlSession session, long run) throws SQLException {
    Map<Part, String> parts = new EnumMap<>(Part.class);
    for (Part part : Part.values()) {
      parts.put(part, part.of(session, run));
    }
    return parts;
  }

  /** The digest of all parts together; 64 hexadecimal digits. */
  static String of(Map<Part, String> parts) {
    RowHash all = new RowHash().line(HEAD);
    for (Part part : Part.values()) {
      all.line(part.table + "\t" + parts.getOrDefault(part, "-"));
    }
    return all.hex();
  }

  /** Computes the digest of a run as it stands; 64 hexadecimal digits. */
  static String of(SqlSession session, long run) throws SQLException {
    return of(parts(session, run));
  }

  /** Stores the digest of a run whose end is written, and that of each part. */
  static String store(SqlSession session, long run) throws SQLException {
    return store(session, run, Map.of());
  }

  /**
   * Stores the digest of a run whose end is written, and that of each part.
   *
   * @param known those of parts that need not be computed
   */
  static String store(SqlSession session, long run, Map<Part, String> known) throws SQLException {
    Map<Part, String> parts = new EnumMap<>(Part.class);
    for (Part part : Part.values()) {
      String there = known.get(part);
      parts.put(part, there != null ? there : part.of(session, run));
    }
    forget(session, run);
    for (Map.Entry<Part, String> each : parts.entrySet()) {
      session.change(
          "INSERT INTO digest_part (run_id, part, sha256) VALUES (?, ?, ?)",
          slots -> slots.whole(run).text(each.getKey().table).text(each.getValue()));
    }
    String digest = of(parts);
    session.change(
        "UPDATE run SET digest = ? WHERE id = ?", slots -> slots.text(digest).whole(run));
    return digest;
  }

  /** A run that goes on has no digest. */
  static void forget(SqlSession session, long run) throws SQLException {
    session.change("DELETE FROM digest_part WHERE run_id = ?", slots -> slots.whole(run));
    session.change("UPDATE run SET digest = NULL WHERE id = ?", slots -> slots.whole(run));
  }

  /** The digests of parts as they were stored. */
  static Map<Part, String> stored(SqlSession session, long run) throws SQLException {
    Map<Part, String> stored = new EnumMap<>(Part.class);
    for (Part part : Part.values()) {
      session
          .one(
              "SELECT sha256 FROM digest_part WHERE run_id = ? AND part = ?",
              slots -> slots.whole(run).text(part.table),
              SqlQueryRow::text)
          .ifPresent(sha256 -> stored.put(part, sha256));
    }
    return stored;
  }

  /** The digest of every row of every table but {@code seal}; 64 hexadecimal digits. */
  static String ofAll(SqlSession session) throws SQLException {
    RowHash all = new RowHash();
    List<String> names =
        session.list(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
                + " AND name <> 'seal' ORDER BY name",
            slots -> {}, SqlQueryRow::text);
    for (String name : names) {
      all.add(session, name, "SELECT * FROM \"" + name + "\" ORDER BY 1, 2", slots -> {});
    }
    return all.hex();
  }
}
