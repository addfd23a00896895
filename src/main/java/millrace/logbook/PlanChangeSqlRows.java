// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.List;

/** Rows of the table {@code plan_change}. */
final class PlanChangeSqlRows {
  private PlanChangeSqlRows() {}

  /** Adds a change; its number. */
  static long insert(SqlSession session, long run, PlanChange change) throws SQLException {
    return session.insert(
        "INSERT INTO plan_change (run_id, kind, text, reason, who, at, elapsed)"
            + " VALUES (?, ?, ?, ?, ?, ?, ?)",
        slots -> {
          slots.whole(run).text(change.kind().text()).text(change.text()).text(change.reason());
          slots.text(change.who()).instant(change.at()).span(change.elapsed());
        });
  }

  static List<PlanChange> list(SqlSession session, long run) throws SQLException {
    return session.list(
        "SELECT kind, text, reason, who, at, elapsed FROM plan_change WHERE run_id = ? ORDER BY id",
        slots -> slots.whole(run),
        row ->
            new PlanChange(
                StoredEnumWords.known(PlanChange.Kind.class, row.text()),
                row.text(),
                row.text(),
                row.text(),
                row.instant(),
                row.span()));
  }
}
