// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A filter of runs as SQL: clauses about the table {@code run r}, and what fills their places.
 *
 * @param clauses each begins with AND
 * @param filling of their places, in their order
 */
record RunFilterSql(String clauses, SqlSession.Filling filling) {
  private static final String OWN_WORDS =
      "lower(r.unit || ' ' || r.title || ' ' || coalesce(r.operator, '') || ' '"
          + " || coalesce(r.batch, '') || ' ' || coalesce(r.tag, '') || ' ' || r.remark)";

  static RunFilterSql of(RunFilter filter) {
    List<String> clauses = new ArrayList<>();
    List<SqlSession.Filling> fillings = new ArrayList<>();
    text(clauses, fillings, "r.unit = ?", filter.unit());
    text(clauses, fillings, "r.batch = ?", filter.batch());
    text(clauses, fillings, "r.tag = ?", filter.tag());
    both(
        clauses,
        fillings,
        "EXISTS (SELECT 1 FROM instrument i WHERE i.run_id = r.id AND (i.serial = ? OR i.name ="
            + " ?))",
        filter.instrument());
    both(
        clauses,
        fillings,
        "(instr("
            + OWN_WORDS
            + ", ?) > 0 OR EXISTS (SELECT 1 FROM remark m WHERE m.run_id = r.id"
            + " AND instr(lower(m.text), ?) > 0))",
        filter.text().map(RunFilterSql::lower));
    instant(clauses, fillings, "r.started_at >= ?", filter.since());
    instant(clauses, fillings, "r.started_at < ?", filter.before());
    StringBuilder sql = new StringBuilder();
    clauses.forEach(c -> sql.append(" AND ").append(c));
    return new RunFilterSql(
        sql.toString(),
        slots -> {
          for (SqlSession.Filling each : fillings) {
            each.into(slots);
          }
        });
  }

  /** As {@code lower} of SQL does it in a logbook: the letters of ASCII. */
  private static String lower(String word) {
    StringBuilder lower = new StringBuilder(word);
    for (int i = 0; i < word.length(); i++) {
      char c = word.charAt(i);
      lower.setCharAt(i, c >= 'A' && c <= 'Z' ? (char) (c + 'a' - 'A') : c);
    }
    return lower.toString();
  }

  private static void text(
      List<String> clauses,
      List<SqlSession.Filling> fillings,
      String clause,
      Optional<String> value) {
    value.ifPresent(
        v -> {
          clauses.add(clause);
          fillings.add(slots -> slots.text(v));
        });
  }

  /** A clause with two places for one value. */
  private static void both(
      List<String> clauses,
      List<SqlSession.Filling> fillings,
      String clause,
      Optional<String> value) {
    value.ifPresent(
        v -> {
          clauses.add(clause);
          fillings.add(slots -> slots.text(v).text(v));
        });
  }

  private static void instant(
      List<String> clauses,
      List<SqlSession.Filling> fillings,
      String clause,
      Optional<Instant> value) {
    value.ifPresent(
        v -> {
          clauses.add(clause);
          fillings.add(slots -> slots.instant(TimestampNanos.nearest(v)));
        });
  }
}
