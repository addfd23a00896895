// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * Copies runs from another logbook file into this one, with all rows that belong to them; local
 * numbers are replaced. What is equal in both (files by hash, set-ups by their texts) is stored
 * once.
 */
final class RunTransfer {
  /** In the statements :there is the run's number in the other file, :here its number in this. */
  private static final List<String> DATA =
      List.of(
          "INSERT INTO setup (fixture, cables, remark) SELECT s.fixture, s.cables, s.remark"
              + " FROM other.setup s JOIN other.run r ON r.setup_id = s.id WHERE r.id = :there"
              + " AND NOT EXISTS (SELECT 1 FROM main.setup m WHERE m.fixture = s.fixture"
              + " AND m.cables = s.cables AND m.remark = s.remark)",
          "INSERT INTO run (uuid, unit, origin, title, operator, batch, tag, seed, virtual_time,"
              + " millrace, started_at, utc_offset_s, setup_id, state, ended_at, remark, digest)"
              + " SELECT r.uuid, r.unit, r.origin, r.title, r.operator, r.batch, r.tag, r.seed,"
              + " r.virtual_time, r.millrace, r.started_at, r.utc_offset_s, m.id, r.state,"
              + " r.ended_at, r.remark, r.digest FROM other.run r"
              + " LEFT JOIN other.setup s ON s.id = r.setup_id"
              + " LEFT JOIN main.setup m ON m.fixture = s.fixture AND m.cables = s.cables"
              + " AND m.remark = s.remark WHERE r.id = :there");

  private static final List<String> REST =
      List.of(
          "INSERT INTO fact (run_id, name, value)"
              + " SELECT :here, name, value FROM other.fact WHERE run_id = :there",
          "INSERT INTO run_file (run_id, file_id, role, name) SELECT :here, m.id, l.role, l.name"
              + " FROM other.run_file l JOIN other.file f ON f.id = l.file_id"
              + " JOIN main.file m ON m.sha256 = f.sha256 WHERE l.run_id = :there ORDER BY l.id",
          "INSERT INTO instrument (run_id, name, roles, driver, address, identity, serial,"
              + " laboratory, certificate, calibrated_on, due_on, since_at)"
              + " SELECT :here, name, roles, driver, address, identity, serial, laboratory,"
              + " certificate, calibrated_on, due_on, since_at"
              + " FROM other.instrument WHERE run_id = :there ORDER BY id",
          "INSERT INTO step (run_id, key, what, started, ended, outcome)"
              + " SELECT :here, key, what, started, ended, outcome"
              + " FROM other.step WHERE run_id = :there ORDER BY id",
          "INSERT INTO incident (run_id, kind, point_key, text, at, elapsed)"
              + " SELECT :here, kind, point_key, text, at, elapsed"
              + " FROM other.incident WHERE run_id = :there ORDER BY id",
          "INSERT INTO channel (run_id, signal, instrument) SELECT :here, signal, instrument"
              + " FROM other.channel WHERE run_id = :there ORDER BY id",
          "INSERT INTO common_group (run_id, name, meter_range) SELECT :here, name, meter_range"
              + " FROM other.common_group WHERE run_id = :there ORDER BY id",
          "INSERT INTO settings (words) SELECT DISTINCT s.words FROM other.point p"
              + " JOIN other.settings s ON s.id = p.settings_id WHERE p.run_id = :there"
              + " AND NOT EXISTS (SELECT 1 FROM main.settings m WHERE m.words = s.words)"
              + " AND :here = :here ORDER BY s.words",
          "INSERT INTO point (run_id, number, place, part, key, kind, \"range\", nominal_A,"
              + " temperature_degC, load_ohm, terminal_voltage_V, supply_V, set_A, direction, slot,"
              + " visit, state, reason, started, ended, settings_id) SELECT :here, number, place,"
              + " part, key, kind, \"range\", nominal_A, temperature_degC, load_ohm,"
              + " terminal_voltage_V, supply_V, set_A, direction, slot, visit, state, reason,"
              + " started, ended, m.id FROM other.point p"
              + " JOIN other.settings s ON s.id = p.settings_id"
              + " JOIN main.settings m ON m.words = s.words WHERE run_id = :there ORDER BY number",
          "INSERT INTO reading (point_id, number, channel_id, state, value, zero, raw, elapsed,"
              + " clock, u, u_common, u_common_relative, common_group_id, extra)"
              + " SELECT mp.id, r.number, mc.id, r.state, r.value, r.zero, r.raw, r.elapsed,"
              + " r.clock, r.u, r.u_common, r.u_common_relative, mg.id, r.extra"
              + " FROM other.point p JOIN main.point mp ON mp.run_id = :here"
              + " AND mp.number = p.number JOIN other.reading r ON r.point_id = p.id"
              + " JOIN other.channel c ON c.id = r.channel_id"
              + " JOIN main.channel mc ON mc.run_id = :here AND mc.signal = c.signal"
              + " AND mc.instrument = c.instrument"
              + " LEFT JOIN other.common_group g ON g.id = r.common_group_id"
              + " LEFT JOIN main.common_group mg ON mg.run_id = :here AND mg.name = g.name"
              + " AND mg.meter_range IS g.meter_range WHERE p.run_id = :there");

  /** One row of a kind; :id is its number there. */
  private static final Map<RunSealChain.Kind, String> ADDED =
      Map.of(
          RunSealChain.Kind.JUDGING,
          "INSERT INTO evaluation (run_id, basis, made_at, millrace, datasheet_file_id,"
              + " reference_temperature_degC, type_run, bin, reason) SELECT :here, e.basis,"
              + " e.made_at, e.millrace, m.id, e.reference_temperature_degC, e.type_run, e.bin,"
              + " e.reason"
              + " FROM other.evaluation e LEFT JOIN other.file f ON f.id = e.datasheet_file_id"
              + " LEFT JOIN main.file m ON m.sha256 = f.sha256 WHERE e.id = :id",
          RunSealChain.Kind.NOTE,
          "INSERT INTO remark (run_id, point_number, kind, text, author, written_at)"
              + " SELECT :here, point_number, kind, text, author, written_at"
              + " FROM other.remark WHERE id = :id",
          RunSealChain.Kind.PLAN_CHANGE,
          "INSERT INTO plan_change (run_id, kind, text, reason, who, at, elapsed)"
              + " SELECT :here, kind, text, reason, who, at, elapsed"
              + " FROM other.plan_change WHERE id = :id",
          RunSealChain.Kind.SIGNATURE,
          "INSERT INTO signature (run_id, sealed, signature, signed_at)"
              + " SELECT :here, sealed, signature, signed_at FROM other.signature WHERE id = :id");

  /** The rows of a judging; :here is its number here, :result the highest of a result here. */
  private static final List<String> BELOW_A_JUDGING =
      List.of(
          "INSERT INTO evaluation_bench (evaluation_id, number, file_id, instrument)"
              + " SELECT :here, b.number, m.id, b.instrument FROM other.evaluation_bench b"
              + " JOIN other.file f ON f.id = b.file_id JOIN main.file m ON m.sha256 = f.sha256"
              + " WHERE b.evaluation_id = :id",
          "INSERT INTO result_words (once, "
              + ResultWords.COLUMNS
              + ") SELECT w.once, "
              + ResultWords.COLUMNS
              + " FROM other.result_words w WHERE w.id IN (SELECT r.words_id FROM other.result r"
              + " WHERE r.evaluation_id = :id) AND :here = :here AND NOT EXISTS"
              + " (SELECT 1 FROM main.result_words m WHERE "
              + ResultWords.same("m", "w")
              + ") ORDER BY w.id",
          "INSERT INTO result (id, evaluation_id, words_id, n, value, standard_uncertainty,"
              + " expanded_uncertainty, lower, upper, coverage_factor, degrees_of_freedom, tur,"
              + " probability_of_conformity, risk) SELECT :result + r.id, :here, m.id, r.n,"
              + " r.value, r.standard_uncertainty, r.expanded_uncertainty, r.lower, r.upper,"
              + " r.coverage_factor, r.degrees_of_freedom, r.tur, r.probability_of_conformity,"
              + " r.risk FROM other.result r JOIN other.result_words w ON w.id = r.words_id"
              + " JOIN main.result_words m ON "
              + ResultWords.same("m", "w")
              + " WHERE r.evaluation_id = :id ORDER BY r.id",
          "INSERT OR IGNORE INTO component_words (component, \"group\", unit, distribution)"
              + " SELECT DISTINCT c.component, c.\"group\", c.unit, c.distribution"
              + " FROM other.result r JOIN other.component_in_full c ON c.result_id = r.id"
              + " WHERE r.evaluation_id = :id AND :here = :here ORDER BY 1, 2, 3, 4",
          "INSERT INTO component (result_id, number, words_id, value, sensitivity, contribution,"
              + " degrees_of_freedom) SELECT :result + r.id, c.number, w.id, c.value,"
              + " c.sensitivity, c.contribution, c.degrees_of_freedom FROM other.result r"
              + " JOIN other.component_in_full c ON c.result_id = r.id JOIN main.component_words w"
              + " ON w.component = c.component AND w.\"group\" = c.\"group\" AND w.unit = c.unit"
              + " AND w.distribution = c.distribution"
              + " WHERE r.evaluation_id = :id AND :here = :here ORDER BY r.id, c.number");

  private static final List<String> SEALS =
      List.of(
          "INSERT INTO link (run_id, number, kind, nth, content, seal)"
              + " SELECT :here, number, kind, nth, content, seal FROM other.link"
              + " WHERE run_id = :there ORDER BY number",
          "INSERT INTO digest_part (run_id, part, sha256)"
              + " SELECT :here, part, sha256 FROM other.digest_part WHERE run_id = :there");

  private static final String FILES_OF_A_RUN =
      "SELECT file_id FROM other.run_file WHERE run_id = :there"
          + " UNION SELECT datasheet_file_id FROM other.evaluation WHERE run_id = :there"
          + " UNION SELECT b.file_id FROM other.evaluation_bench b"
          + " JOIN other.evaluation e ON e.id = b.evaluation_id WHERE e.run_id = :there";

  private static final List<String> FILES =
      List.of(
          "INSERT INTO file (sha256, bytes) SELECT f.sha256, f.bytes FROM other.file f"
              + " WHERE f.id IN ("
              + FILES_OF_A_RUN
              + ") AND NOT EXISTS (SELECT 1 FROM main.file m WHERE m.sha256 = f.sha256)"
              + " ORDER BY f.id",
          "INSERT INTO file_piece (file_id, number, content) SELECT m.id, p.number, p.content"
              + " FROM other.file f JOIN other.file_piece p ON p.file_id = f.id"
              + " JOIN main.file m ON m.sha256 = f.sha256 WHERE f.id IN ("
              + FILES_OF_A_RUN
              + ") AND NOT EXISTS (SELECT 1 FROM main.file_piece x WHERE x.file_id = m.id"
              + " AND x.number = p.number)");

  private final SqlSession session;

  /** Attaches the other file read-only; {@link #end} detaches it. */
  RunTransfer(SqlSession session, Path other) {
    this.session = session;
    session.query(
        "reading '" + other + "'",
        () ->
            session.change(
                "ATTACH DATABASE ? AS other",
                slots -> slots.text(SqliteConnections.address(other))));
  }

  void end() {
    session.query("closing the other file", () -> session.change("DETACH other", slots -> {}));
  }

  /** The number of a run here; empty if it is not here. */
  Optional<Long> there(UUID uuid) throws SQLException {
    return session.one(
        "SELECT id FROM main.run WHERE uuid = ?",
        slots -> slots.text(uuid.toString()),
        SqlQueryRow::whole);
  }

  /** Copies what was measured. */
  void data(long there) throws SQLException {
    for (String sql : DATA) {
      change(sql, there, 0, 0);
    }
    long here =
        session.one("SELECT max(id) FROM main.run", slots -> {}, SqlQueryRow::whole).orElseThrow();
    for (String sql : FILES) {
      change(sql, there, here, 0);
    }
    for (String sql : REST) {
      change(sql, there, here, 0);
    }
  }

  /**
   * Copies additions to a run that are not here yet. A run that was copied whole keeps its chain;
   * the chain of any other is continued with what is new. Tells whether there was anything new.
   */
  boolean additions(long there, long here, boolean fresh) throws SQLException {
    for (String sql : FILES) {
      change(sql, there, here, 0);
    }
    Set<String> known =
        fresh
            ? Set.of()
            : RunSealChain.links(session, here).stream()
                .map(RunSealChain.Link::content)
                .collect(Collectors.toSet());
    boolean any = false;
    for (RunSealChain.Link link : RunSealChain.linksIn(session, "other.", there)) {
      if (link.kind() != RunSealChain.Kind.END && !known.contains(link.content())) {
        add(link, there, here);
        if (!fresh) {
          RunSealChain.add(session, here, link.kind(), link.content());
        }
        any = true;
      }
    }
    if (fresh) {
      for (String sql : SEALS) {
        change(sql, there, here, 0);
      }
    }
    return any;
  }

  private void add(RunSealChain.Link link, long there, long here) throws SQLException {
    long id =
        session
            .one(
                "SELECT id FROM other."
                    + link.kind().table()
                    + " WHERE run_id = ? ORDER BY id LIMIT 1 OFFSET ?",
                slots -> slots.whole(there).whole(link.nth() - 1),
                SqlQueryRow::whole)
            .orElseThrow();
    change(ADDED.get(link.kind()), id, here, 0);
    if (link.kind() == RunSealChain.Kind.JUDGING) {
      long judging =
          session.one("SELECT last_insert_rowid()", slots -> {}, SqlQueryRow::whole).orElseThrow();
      long result =
          session
              .one("SELECT coalesce(max(id), 0) FROM main.result", slots -> {}, SqlQueryRow::whole)
              .orElse(0L);
      for (String sql : BELOW_A_JUDGING) {
        change(sql, id, judging, result);
      }
    }
  }

  private int change(String sql, long there, long here, long result) throws SQLException {
    String numbered =
        sql.replace(":there", "?1")
            .replace(":id", "?1")
            .replace(":here", "?2")
            .replace(":result", "?3");
    return session.change(
        numbered,
        slots -> {
          slots.whole(there);
          if (numbered.contains("?2") || numbered.contains("?3")) {
            slots.whole(here);
          }
          if (numbered.contains("?3")) {
            slots.whole(result);
          }
        });
  }
}
