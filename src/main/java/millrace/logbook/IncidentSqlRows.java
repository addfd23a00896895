// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;

/** Rows of the tables {@code incident} and {@code step}: what happened in a run. */
final class IncidentSqlRows {
  private IncidentSqlRows() {}

  static void insert(SqlSession session, long run, Incident incident) throws SQLException {
    session.change(
        "INSERT INTO incident (run_id, kind, point_key, text, at, elapsed)"
            + " VALUES (?, ?, ?, ?, ?, ?)",
        slots -> {
          slots.whole(run).text(incident.kind().text()).text(incident.pointKey());
          slots.text(incident.text()).instant(incident.at()).span(incident.elapsed());
        });
  }

  static List<Incident> incidents(SqlSession session, long run) throws SQLException {
    return session.list(
        "SELECT kind, point_key, text, at, elapsed FROM incident WHERE run_id = ? ORDER BY id",
        slots -> slots.whole(run),
        row ->
            new Incident(
                StoredEnumWords.known(IncidentKind.class, row.text()),
                row.maybeText(),
                row.text(),
                row.instant(),
                row.span()));
  }

  static long stepStarted(SqlSession session, long run, StepEntry step) throws SQLException {
    return session.insert(
        "INSERT INTO step (run_id, key, what, started) VALUES (?, ?, ?, ?)",
        slots -> slots.whole(run).text(step.key()).text(step.what()).span(step.started()));
  }

  static void stepEnded(SqlSession session, long step, StepEntry.End end) throws SQLException {
    session.change(
        "UPDATE step SET ended = ?, outcome = ? WHERE id = ?",
        slots -> slots.span(end.at()).text(end.outcome()).whole(step));
  }

  static List<StepEntry> steps(SqlSession session, long run) throws SQLException {
    return session.list(
        "SELECT id, key, what, started, ended, outcome FROM step WHERE run_id = ? ORDER BY id",
        slots -> slots.whole(run),
        IncidentSqlRows::step);
  }

  private static StepEntry step(SqlQueryRow row) throws SQLException {
    long id = row.whole();
    String key = row.text();
    String what = row.text();
    Duration started = row.span();
    Optional<Duration> ended = row.maybeSpan();
    String outcome = row.maybeText().orElse("");
    return new StepEntry(id, key, what, started, ended.map(at -> new StepEntry.End(at, outcome)));
  }
}
