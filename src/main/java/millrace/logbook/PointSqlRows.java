// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.SweepDirection;
import millrace.evidence.setting.PointSettings;

/** Rows of the table {@code point}. */
final class PointSqlRows {
  private static final List<String> NAMES =
      List.of(
          "number",
          "place",
          "part",
          "key",
          "kind",
          "\"range\"",
          "nominal_A",
          "temperature_degC",
          "load_ohm",
          "terminal_voltage_V",
          "supply_V",
          "set_A",
          "direction",
          "slot",
          "visit",
          "state",
          "reason",
          "started",
          "ended");

  /** The words of the settings of a point, by the prefix of its columns; a file keeps them once. */
  static final String SETTINGS =
      "/*file (SELECT words FROM settings WHERE id = %ssettings_id) AS settings*/ %ssettings";

  private static final String COLUMNS =
      String.join(", ", NAMES) + ", " + SETTINGS.formatted("", "");

  private static final String KEPT_SETTINGS = "(SELECT id FROM settings WHERE words = ?)";

  private static final String INSERT =
      "INSERT INTO point (run_id, "
          + String.join(", ", NAMES)
          + ", settings_id) VALUES (?"
          + ", ?".repeat(NAMES.size())
          + ", "
          + KEPT_SETTINGS
          + ")";

  /** The points of a run, whose number fills the first place. */
  static final String OF_RUN =
      " WHERE run_id = ? /*store AND month = run_month(?1) AND run_uuid = run_key(?1)*/";

  /** Points p with readings r of a run, whose number fills the first place. */
  static final String WITH_READINGS =
      " FROM point p JOIN reading r ON r.point_id = p.id"
          + " /*store AND r.month = p.month AND r.run_uuid = p.run_uuid*/ WHERE p.run_id = ?"
          + " /*store AND p.month = run_month(?1) AND p.run_uuid = run_key(?1)*/";

  static final String BY_RUN = "SELECT " + COLUMNS + " FROM point" + OF_RUN + " ORDER BY number";

  static final String BY_NUMBER = "SELECT " + COLUMNS + " FROM point" + OF_RUN + " AND number = ?";

  static final String BY_PLACE =
      "SELECT " + COLUMNS + " FROM point" + OF_RUN + " AND place = ? ORDER BY part";

  /**
   * How many readings point p has: they are numbered from 1, so that the last one tells it without
   * the others being read.
   */
  private static final String READINGS =
      "coalesce((SELECT max(r.number) FROM reading r WHERE r.point_id = p.id"
          + " /*store AND r.month = p.month AND r.run_uuid = p.run_uuid*/), 0)";

  private static final String P_OF_RUN =
      " FROM point p WHERE p.run_id = ?"
          + " /*store AND p.month = run_month(?1) AND p.run_uuid = run_key(?1)*/";

  private PointSqlRows() {}

  /** Adds a point; answers the row's number in the logbook. */
  static long insert(SqlSession session, long run, Point point) throws SQLException {
    keep(session, words(point));
    return session.insert(INSERT, slots -> fill(slots.whole(run), point));
  }

  /**
   * Adds points in bulk, which are there once it is flushed.
   *
   * @param first the row of the first of them, behind all others
   */
  static void insert(SqlSession session, long run, long first, List<Point> points)
      throws SQLException {
    List<String> columns = new ArrayList<>(List.of("id", "run_id"));
    columns.addAll(NAMES);
    Set<String> words = new TreeSet<>();
    points.forEach(point -> words.add(words(point)));
    for (String each : words) {
      keep(session, each);
    }
    columns.add("settings_id");
    List<String> places = new ArrayList<>(Collections.nCopies(columns.size() - 1, "?"));
    places.add(KEPT_SETTINGS);
    BulkInsert rows = new BulkInsert(session, "point", columns, places);
    for (int i = 0; i < points.size(); i++) {
      long row = first + i;
      Point point = points.get(i);
      rows.add(slots -> fill(slots.whole(row).whole(run), point));
    }
    rows.flush();
  }

  /** Its settings as they are kept. */
  static String words(Point point) {
    return JsonColumnText.ofMap(point.settings().words());
  }

  /** Adds words of settings that are not there yet. */
  private static void keep(SqlSession session, String words) throws SQLException {
    session.change("INSERT OR IGNORE INTO settings (words) VALUES (?)", slots -> slots.text(words));
  }

  /** The row behind the last point of all runs. */
  static long next(SqlSession session) throws SQLException {
    return 1
        + session
            .one("SELECT coalesce(max(id), 0) FROM point", slots -> {}, SqlQueryRow::whole)
            .orElse(0L);
  }

  private static void fill(StatementParameters slots, Point point) throws SQLException {
    PointConditions at = point.conditions();
    slots.whole(point.id()).whole(point.number().place());
    slots.whole(point.number().part()).text(point.key()).text(point.kind().text());
    slots.text(at.range()).number(at.nominalA()).number(at.temperatureDegC());
    slots.number(at.loadOhm()).number(at.terminalVoltageV()).number(at.supplyV());
    slots.number(at.setA()).text(at.direction().map(SweepDirection::text)).text(at.slot());
    slots.whole(at.visit()).text(point.state().text()).text(point.reason());
    slots.span(point.started()).span(point.ended()).text(words(point));
  }

  /** The number of a point that is about to be written; a number in use is not given again. */
  static PointNumber free(SqlSession session, long run, PointNumber asked) throws SQLException {
    return session
        .one(
            "SELECT max(part), min(part) FROM point WHERE run_id = ? AND place = ? HAVING count(*)"
                + " > 0",
            slots -> slots.whole(run).whole(asked.place()),
            row -> {
              int last = (int) row.whole();
              boolean free = asked.part() == 0 && row.whole() > 0;
              return new PointNumber(asked.place(), free ? 0 : last + 1);
            })
        .orElseGet(asked::first);
  }

  /** Closes a point that is still open. */
  static void close(SqlSession session, long row, Point end) throws SQLException {
    keep(session, words(end));
    session.change(
        "UPDATE point SET state = ?, reason = ?, ended = ?, settings_id = "
            + KEPT_SETTINGS
            + " WHERE id = ?",
        slots -> {
          slots.text(end.state().text()).text(end.reason()).span(end.ended());
          slots.text(words(end)).whole(row);
        });
  }

  static Point map(SqlQueryRow row) throws SQLException {
    return new Point(
        row.whole(),
        new PointNumber((int) row.whole(), (int) row.whole()),
        row.text(),
        StoredEnumWords.known(PointKind.class, row.text()),
        conditions(row),
        StoredEnumWords.known(PointState.class, row.text()),
        row.text(),
        row.span(),
        row.span(),
        settings(JsonColumnText.map(row.text())));
  }

  private static PointConditions conditions(SqlQueryRow row) throws SQLException {
    Optional<String> range = row.maybeText();
    OptionalDouble nominal = row.maybeNumber();
    return new PointConditions(
        range,
        nominal,
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeText().map(word -> StoredEnumWords.known(SweepDirection.class, word)),
        row.maybeText(),
        (int) row.whole());
  }

  /** Points without settings, as all of an import, share one object. */
  private static PointSettings settings(Map<String, String> words) {
    return words.isEmpty() ? PointSettings.NONE : PointSettings.of(words);
  }

  /** How many readings a run has. */
  static long readings(SqlSession session, long run) throws SQLException {
    return session
        .one(
            "SELECT coalesce(sum(" + READINGS + "), 0)" + P_OF_RUN,
            slots -> slots.whole(run),
            SqlQueryRow::whole)
        .orElse(0L);
  }

  /** How many readings each of the first points has, by their number. */
  static Map<Long, Long> readings(SqlSession session, long run, int most) throws SQLException {
    Map<Long, Long> counts = new HashMap<>();
    session.list(
        "SELECT p.number, " + READINGS + P_OF_RUN + " ORDER BY p.number LIMIT ?",
        slots -> slots.whole(run).whole(most),
        row -> counts.put(row.whole(), row.whole()));
    return counts;
  }

  /** The number of points in each state, see {@link RunReader#pointStates}. */
  static Map<PointState, Integer> states(SqlSession session, long run) throws SQLException {
    Map<PointState, Integer> counts = new EnumMap<>(PointState.class);
    session
        .list(
            """
            SELECT state, count(*) FROM point AS p
            WHERE run_id = ? /*store AND month = run_month(?1) AND run_uuid = run_key(?1)*/ AND NOT (
              (state = 'skipped' OR (kind = 'soak' AND state <> 'complete'))
              AND EXISTS (
                SELECT 1 FROM point AS later
                WHERE later.run_id = p.run_id
                  /*store AND later.month = p.month AND later.run_uuid = p.run_uuid*/ AND later.key = p.key AND later.kind = p.kind
                  AND later.number > p.number AND later.state = 'complete'))
            GROUP BY state
            """,
            slots -> slots.whole(run),
            row ->
                Map.entry(StoredEnumWords.known(PointState.class, row.text()), (int) row.whole()))
        .forEach(each -> counts.put(each.getKey(), each.getValue()));
    return counts;
  }
}
