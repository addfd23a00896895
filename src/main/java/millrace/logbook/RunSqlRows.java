// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.UUID;
import millrace.evidence.Conformity;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** Rows of the table {@code run} and its facts. */
final class RunSqlRows {
  private static final String COLUMNS =
      "r.id, r.uuid, r.unit, r.origin, r.title, r.operator, r.batch, r.tag, r.seed,"
          + " r.virtual_time, r.millrace, r.started_at, r.utc_offset_s, r.state, r.ended_at,"
          + " r.remark, r.digest, r.held_by, r.setup_id";

  private static final String INSERT =
      "INSERT INTO run (uuid, unit, origin, title, operator, batch, tag, seed, virtual_time,"
          + " millrace, started_at, utc_offset_s, state)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 'unfinished')";

  private RunSqlRows() {}

  static long insert(SqlSession session, UUID uuid, RunStart start) throws SQLException {
    long id =
        session.insert(
            INSERT,
            slots -> {
              slots.text(uuid.toString()).text(start.unit()).text(start.origin().text());
              slots.text(start.title()).text(start.people().operator());
              slots.text(start.people().batch()).text(start.people().tag());
              slots.whole(seed(start)).whole(virtualTime(start)).text(start.millrace());
              slots.instant(start.startedAt()).whole(start.offset().getTotalSeconds());
            });
    insertFacts(session, id, start.facts());
    return id;
  }

  private static OptionalLong seed(RunStart start) {
    return start.simulation().isPresent()
        ? OptionalLong.of(start.simulation().get().seed())
        : OptionalLong.empty();
  }

  private static OptionalLong virtualTime(RunStart start) {
    return start.simulation().isPresent()
        ? OptionalLong.of(start.simulation().get().virtualTime() ? 1 : 0)
        : OptionalLong.empty();
  }

  static void insertFacts(SqlSession session, long run, RunFacts facts) throws SQLException {
    for (Map.Entry<String, String> fact : facts.stored().entrySet()) {
      session.change(
          "INSERT INTO fact (run_id, name, value) VALUES (?, ?, ?)",
          slots -> slots.whole(run).text(fact.getKey()).text(fact.getValue()));
    }
  }

  static List<RunSummary> list(SqlSession session, RunFilter filter) throws SQLException {
    RunFilterSql runFilterSql = RunFilterSql.of(filter);
    Map<Long, Map<String, String>> facts = new HashMap<>();
    session.list(
        "SELECT f.run_id, f.name, f.value FROM run r JOIN fact f ON f.run_id = r.id WHERE true"
            + runFilterSql.clauses()
            + " ORDER BY f.run_id, f.name",
        runFilterSql.filling(),
        row ->
            facts
                .computeIfAbsent(row.whole(), run -> new LinkedHashMap<>())
                .put(row.text(), row.text()));
    return session
        .list(
            "SELECT "
                + COLUMNS
                + " FROM run r WHERE true"
                + runFilterSql.clauses()
                + " ORDER BY r.id",
            runFilterSql.filling(),
            RunSqlRows::map)
        .stream()
        .map(run -> with(run, new RunFacts(facts.getOrDefault(run.id(), Map.of()))))
        .toList();
  }

  /** The outcome of the last judging of each run. */
  static List<LatestRunVerdict> verdicts(SqlSession session, RunFilter filter) throws SQLException {
    RunFilterSql runFilterSql = RunFilterSql.of(filter);
    Map<Long, LatestRunVerdict> found = new LinkedHashMap<>();
    session
        .list(
            // Only the first result of each outcome.
            "SELECT run, conformity, quantity, \"range\" FROM (SELECT r.id AS run, x.id AS result,"
                + " x.conformity, x.quantity, x.\"range\","
                + " row_number() OVER (PARTITION BY r.id, x.conformity ORDER BY x.id) AS nth"
                + " FROM run r"
                + " JOIN evaluation e ON e.id = (SELECT y.id FROM evaluation y"
                + " WHERE y.run_id = r.id ORDER BY y.made_at DESC, y.id DESC LIMIT 1)"
                + " JOIN /*file result_in_full*/ result x ON x.evaluation_id = e.id"
                + " /*store AND x.month = r.month AND x.run_uuid = r.run_uuid*/"
                + " WHERE x.conformity IS NOT NULL"
                + runFilterSql.clauses()
                + ") AS limits WHERE nth = 1 ORDER BY run, result",
            runFilterSql.filling(),
            RunSqlRows::oneLimit)
        .forEach(one -> found.merge(one.run(), one, RunSqlRows::and));
    return List.copyOf(found.values());
  }

  private static LatestRunVerdict oneLimit(SqlQueryRow row) throws SQLException {
    long run = row.whole();
    Conformity conformity = StoredEnumWords.known(Conformity.class, row.text());
    LatestRunVerdict.Failed what =
        new LatestRunVerdict.Failed(StoredEnumWords.quantity(row.text()), row.maybeText());
    boolean failed = conformity == Conformity.FAIL || conformity == Conformity.CONDITIONAL_FAIL;
    return new LatestRunVerdict(
        run, List.of(conformity), failed ? Optional.of(what) : Optional.empty());
  }

  private static LatestRunVerdict and(LatestRunVerdict a, LatestRunVerdict b) {
    List<Conformity> both = new ArrayList<>(a.limits());
    both.addAll(b.limits());
    return new LatestRunVerdict(a.run(), both, a.failedFirst().or(b::failedFirst));
  }

  /** A run that must be there. */
  static RunSummary known(SqlSession session, long run) throws SQLException {
    return byId(session, run)
        .orElseThrow(
            () ->
                session
                    .engine()
                    .refusal(
                        "run " + run + " is not in it",
                        "If it was there before, the file is damaged: work on with a backup."));
  }

  static Optional<RunSummary> byId(SqlSession session, long id) throws SQLException {
    List<RunSummary> found =
        session.list(
            "SELECT " + COLUMNS + " FROM run r WHERE r.id = ?",
            slots -> slots.whole(id),
            RunSqlRows::map);
    return facts(session, found).stream().findFirst();
  }

  /** Runs whose UUID begins so; hexadecimal digits and hyphens only. */
  static List<RunSummary> byUuid(SqlSession session, String prefix) throws SQLException {
    return facts(
        session,
        session.list(
            "SELECT " + COLUMNS + " FROM run r WHERE r.uuid >= ? AND r.uuid < ? ORDER BY r.id",
            slots -> slots.text(prefix).text(prefix + "g"),
            RunSqlRows::map));
  }

  private static List<RunSummary> facts(SqlSession session, List<RunSummary> runs)
      throws SQLException {
    List<RunSummary> all = new ArrayList<>();
    for (RunSummary each : runs) {
      all.add(with(each, facts(session, each.id())));
    }
    return all;
  }

  private static RunFacts facts(SqlSession session, long run) throws SQLException {
    Map<String, String> facts = new LinkedHashMap<>();
    session.list(
        "SELECT name, value FROM fact WHERE run_id = ? ORDER BY name",
        slots -> slots.whole(run),
        row -> facts.put(row.text(), row.text()));
    return new RunFacts(facts);
  }

  private static RunSummary with(RunSummary run, RunFacts facts) {
    RunStart s = run.start();
    RunStart start =
        new RunStart(
            s.unit(),
            s.origin(),
            s.title(),
            s.people(),
            s.simulation(),
            s.millrace(),
            s.startedAt(),
            s.offset(),
            facts);
    return new RunSummary(
        run.id(),
        run.uuid(),
        start,
        run.state(),
        run.endedAt(),
        run.remark(),
        run.digest(),
        run.heldBy(),
        run.setUp());
  }

  private static RunSummary map(SqlQueryRow row) throws SQLException {
    long id = row.whole();
    UUID uuid = UUID.fromString(row.text());
    RunStart start =
        new RunStart(
            row.text(),
            StoredEnumWords.known(RunOrigin.class, row.text()),
            row.text(),
            new RunStart.People(row.maybeText(), row.maybeText(), row.maybeText()),
            simulation(row),
            row.text(),
            row.instant(),
            ZoneOffset.ofTotalSeconds((int) row.whole()),
            RunFacts.NONE);
    RunState state = StoredEnumWords.known(RunState.class, row.text());
    Optional<Instant> ended = row.maybeInstant();
    return new RunSummary(
        id,
        uuid,
        start,
        state,
        ended,
        row.text(),
        row.maybeText(),
        row.maybeText(),
        boxed(row.maybeWhole()));
  }

  private static Optional<RunStart.Simulation> simulation(SqlQueryRow row) throws SQLException {
    OptionalLong seed = row.maybeWhole();
    boolean virtualTime = row.whole() == 1;
    return seed.isPresent()
        ? Optional.of(new RunStart.Simulation(seed.getAsLong(), virtualTime))
        : Optional.empty();
  }

  private static Optional<Long> boxed(OptionalLong value) {
    return value.isPresent() ? Optional.of(value.getAsLong()) : Optional.empty();
  }

  /** Finds a run by local number or by the beginning of its UUID. */
  static RunSummary find(SqlSession session, String name) throws SQLException {
    String wanted = name.strip().toLowerCase(Locale.ROOT);
    List<RunSummary> found = List.of();
    if (isNumber(wanted)) {
      found = byId(session, Long.parseLong(wanted)).stream().toList();
    }
    if (found.isEmpty() && isUuidStart(wanted)) {
      found = byUuid(session, wanted);
    }
    if (found.size() == 1) {
      return found.get(0);
    }
    throw found.isEmpty() ? unknown(session, name) : ambiguous(session, name, found);
  }

  private static boolean isNumber(String text) {
    return text.length() < 19
        && !text.isEmpty()
        && text.chars().allMatch(c -> c >= '0' && c <= '9');
  }

  private static boolean isUuidStart(String text) {
    return text.length() >= 4
        && text.chars().allMatch(c -> c == '-' || (Character.digit(c, 16) >= 0 && c < 128));
  }

  private static BadInputException unknown(SqlSession session, String name) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(session.engine().name()),
            "there is no run '" + name + "'",
            "a local number, or the beginning of a UUID, 4 digits or more",
            "'millrace runs' lists what there is."));
  }

  private static BadInputException ambiguous(
      SqlSession session, String name, List<RunSummary> found) {
    String numbers =
        String.join(", ", found.stream().map(run -> String.valueOf(run.id())).toList());
    return new BadInputException(
        new InputFault(
            FilePlace.of(session.engine().name()),
            "the UUIDs of runs " + numbers + " begin with '" + name + "'",
            "one run",
            "Give more digits, or the local number."));
  }

  /** The elapsed time of a run, see {@link RunReader#lastElapsed}. */
  static Duration lastElapsed(SqlSession session, long run) throws SQLException {
    return session
        .one(
            """
            SELECT coalesce(max(t), 0) FROM (
              SELECT ended AS t FROM point WHERE run_id = ?1
                /*store AND month = run_month(?1) AND run_uuid = run_key(?1)*/
              UNION ALL SELECT elapsed FROM incident WHERE run_id = ?1
              UNION ALL SELECT coalesce(ended, started) FROM step WHERE run_id = ?1
              UNION ALL SELECT max(elapsed) FROM (
                SELECT elapsed FROM reading WHERE point_id =
                  (SELECT max(id) FROM point WHERE run_id = ?1
                    /*store AND month = run_month(?1) AND run_uuid = run_key(?1)*/)
                  /*store AND month = run_month(?1) AND run_uuid = run_key(?1)*/
                ORDER BY number DESC LIMIT 64) AS last) AS every
            """,
            slots -> slots.whole(run),
            SqlQueryRow::span)
        .orElse(Duration.ZERO);
  }
}
