// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Conditions;
import millrace.evidence.Direction;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;

/** Rows of the table {@code point}. */
final class PointRows {
  private static final String COLUMNS =
      "number, key, kind, \"range\", nominal_A, temperature_degC, load_ohm, terminal_voltage_V,"
          + " supply_V, set_A, direction, slot, visit, state, reason, started, ended, settings";

  private static final String INSERT =
      "INSERT INTO point (run_id, "
          + COLUMNS
          + ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  static final String BY_RUN = "SELECT " + COLUMNS + " FROM point WHERE run_id = ? ORDER BY number";

  static final String BY_NUMBER =
      "SELECT " + COLUMNS + " FROM point WHERE run_id = ? AND number = ?";

  private PointRows() {}

  /** Adds a point; answers the row's number in the logbook. */
  static long insert(Session session, long run, Point point) throws SQLException {
    Conditions at = point.conditions();
    return session.insert(
        INSERT,
        slots -> {
          slots.whole(run).whole(point.id()).text(point.key()).text(point.kind().text());
          slots.text(at.range()).number(at.nominalA()).number(at.temperatureDegC());
          slots.number(at.loadOhm()).number(at.terminalVoltageV()).number(at.supplyV());
          slots.number(at.setA()).text(at.direction().map(Direction::text)).text(at.slot());
          slots.whole(at.visit()).text(point.state().text()).text(point.reason());
          slots.span(point.started()).span(point.ended()).text(Texts.ofMap(point.settings()));
        });
  }

  /** Closes a point that is still open. */
  static void close(Session session, long row, Point end) throws SQLException {
    session.change(
        "UPDATE point SET state = ?, reason = ?, ended = ?, settings = ? WHERE id = ?",
        slots -> {
          slots.text(end.state().text()).text(end.reason()).span(end.ended());
          slots.text(Texts.ofMap(end.settings())).whole(row);
        });
  }

  static Point map(QueryRow row) throws SQLException {
    return new Point(
        row.whole(),
        row.text(),
        StoredWords.known(PointKind::byText, row.text()),
        conditions(row),
        StoredWords.known(PointState::byText, row.text()),
        row.text(),
        row.span(),
        row.span(),
        Texts.map(row.text()));
  }

  private static Conditions conditions(QueryRow row) throws SQLException {
    Optional<String> range = row.maybeText();
    OptionalDouble nominal = row.maybeNumber();
    return new Conditions(
        range,
        nominal,
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeText().map(word -> StoredWords.known(Direction::byText, word)),
        row.maybeText(),
        (int) row.whole());
  }
}
