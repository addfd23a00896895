// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.UUID;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;

/** Rows of the tables {@code evaluation}, {@code result} and {@code component}. */
final class ResultSqlRows {
  static final String COLUMNS =
      "quantity, \"range\", at, kind, value, missing, n, standard_uncertainty,"
          + " expanded_uncertainty, lower, upper, coverage, coverage_factor, degrees_of_freedom,"
          + " ppm_base, limit_lower, limit_upper, decision_rule, guard_factor, conformity, tur,"
          + " probability_of_conformity, limit_when, covers, risk, method, notes";

  /** Where a result is read with its words, which a file keeps apart. */
  static final String IN_FULL = "/*file result_in_full*/ result";

  private static final String BUDGET_IN_FULL = "/*file component_in_full*/ component";

  /** The order of a budget. */
  private static final String BUDGET_ORDER = " ORDER BY r.id, /*file c.number*/ c.id";

  /** The results of a judging, whose number fills the first place. */
  private static final String OF_JUDGING =
      " WHERE evaluation_id = ?"
          + " /*store AND month = judging_month(?1) AND run_uuid = judging_key(?1)*/";

  /** A result in a file, whose words stand elsewhere. */
  private static final String INSERT_SHORT =
      "INSERT INTO result (evaluation_id, words_id, n, value, standard_uncertainty,"
          + " expanded_uncertainty, lower, upper, coverage_factor, degrees_of_freedom, tur,"
          + " probability_of_conformity, risk) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  private static final String KEEP_BUDGET_WORDS =
      "INSERT OR IGNORE INTO component_words (component, \"group\", unit, distribution)"
          + " VALUES (?, ?, ?, ?)";

  private static final String INSERT_SHORT_BUDGET =
      "INSERT INTO component (result_id, number, words_id, value, sensitivity, contribution,"
          + " degrees_of_freedom) VALUES (?, ?, (SELECT id FROM component_words WHERE component = ?"
          + " AND \"group\" = ? AND unit = ? AND distribution = ?), ?, ?, ?, ?)";

  private static final String INSERT =
      "INSERT INTO result (/*store month, run_uuid,*/ evaluation_id, "
          + COLUMNS
          + ") VALUES (/*store judging_month(?1), judging_key(?1),*/ ?, ?, ?, ?, ?, ?, ?, ?, ?, ?,"
          + " ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  private ResultSqlRows() {}

  /** Adds to a hash what hangs on an evaluation: other bench files, results and budgets. */
  static RowHash add(SqlSession session, long evaluation, RowHash hash) throws SQLException {
    SqlSession.Filling of = slots -> slots.whole(evaluation);
    hash.add(
        session,
        "evaluation_bench",
        "SELECT b.number, f.sha256, b.instrument FROM evaluation_bench b"
            + " JOIN file f ON f.id = b.file_id WHERE b.evaluation_id = ? ORDER BY b.number",
        of);
    hash.add(
        session,
        "result",
        "SELECT " + COLUMNS + " FROM " + IN_FULL + OF_JUDGING + " ORDER BY id",
        of);
    return hash.add(
        session,
        "component",
        "SELECT dense_rank() OVER (ORDER BY r.id), c.component, c.\"group\", c.value, c.unit,"
            + " c.distribution, c.sensitivity, c.contribution, c.degrees_of_freedom FROM result r"
            + " JOIN "
            + BUDGET_IN_FULL
            + " c ON c.result_id = r.id"
            + " /*store AND c.month = r.month AND c.run_uuid = r.run_uuid*/"
            + " WHERE r.evaluation_id = ?"
            + " /*store AND r.month = judging_month(?1) AND r.run_uuid = judging_key(?1)*/"
            + BUDGET_ORDER,
        of);
  }

  /** The number of an evaluation that is added, without results. */
  static long evaluation(SqlSession session, long run, RunEvaluation evaluation)
      throws SQLException {
    Optional<String> sheet = evaluation.datasheetSha256();
    OptionalLong datasheet =
        sheet.isPresent() ? OptionalLong.of(kept(session, sheet.get())) : OptionalLong.empty();
    long id =
        session.insert(
            "INSERT INTO evaluation (run_id, basis, made_at, millrace, datasheet_file_id,"
                + " reference_temperature_degC, type_run, bin, reason)"
                + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            slots -> {
              slots.whole(run).text(evaluation.basis()).instant(evaluation.madeAt());
              slots.text(evaluation.millrace()).whole(datasheet);
              slots.number(evaluation.referenceTemperatureDegC());
              slots.text(evaluation.typeRun().map(UUID::toString)).text(evaluation.bin());
              slots.text(evaluation.reason());
            });
    for (int i = 0; i < evaluation.otherBenches().size(); i++) {
      insert(session, id, i, evaluation.otherBenches().get(i));
    }
    return id;
  }

  /** The number of a file that an evaluation rests on. */
  private static long kept(SqlSession session, String sha256) throws SQLException {
    return FileSqlRows.id(session, sha256)
        .orElseThrow(
            () -> new IllegalArgumentException("what an evaluation rests on must be kept first"));
  }

  private static void insert(
      SqlSession session, long evaluation, int number, RunEvaluation.OtherBench bench)
      throws SQLException {
    long file = kept(session, bench.sha256());
    session.change(
        "INSERT INTO evaluation_bench (evaluation_id, number, file_id, instrument)"
            + " VALUES (?, ?, ?, ?)",
        slots -> slots.whole(evaluation).whole(number).whole(file).text(bench.instrument()));
  }

  static List<RunEvaluation> evaluations(SqlSession session, long run) throws SQLException {
    Map<Long, List<RunEvaluation.OtherBench>> benches = new HashMap<>();
    session.list(
        "SELECT e.id, f.sha256, b.instrument FROM evaluation e"
            + " JOIN evaluation_bench b ON b.evaluation_id = e.id JOIN file f ON f.id = b.file_id"
            + " WHERE e.run_id = ? ORDER BY e.id, b.number",
        slots -> slots.whole(run),
        row ->
            benches
                .computeIfAbsent(row.whole(), id -> new ArrayList<>())
                .add(new RunEvaluation.OtherBench(row.text(), row.maybeText())));
    return session.list(
        "SELECT e.basis, e.made_at, e.millrace, f.sha256, e.reference_temperature_degC, e.id,"
            + " e.type_run, e.bin, e.reason"
            + " FROM evaluation e LEFT JOIN file f ON f.id = e.datasheet_file_id"
            + " WHERE e.run_id = ? ORDER BY e.made_at, e.id",
        slots -> slots.whole(run),
        row ->
            new RunEvaluation(
                row.text(),
                row.instant(),
                row.text(),
                row.maybeText(),
                row.maybeNumber(),
                benches.getOrDefault(row.whole(), List.of()),
                row.maybeText().map(UUID::fromString),
                row.maybeText(),
                row.text()));
  }

  static void insert(SqlSession session, long evaluation, Result result) throws SQLException {
    if (session.engine().store().isPresent()) {
      insertWhole(session, evaluation, result);
      return;
    }
    long words = ResultWords.of(result).kept(session);
    long id =
        session.insert(
            INSERT_SHORT,
            slots -> {
              slots.whole(evaluation).whole(words).whole(result.outcome().n());
              numbers(slots, result);
            });
    for (int i = 0; i < result.budget().size(); i++) {
      insertShort(session, id, i + 1, result.budget().get(i));
    }
  }

  private static void numbers(StatementParameters slots, Result result) throws SQLException {
    slots.number(value(result.outcome()));
    Optional<ComputationOutcome.Uncertainty> known = ResultWords.uncertainty(result.outcome());
    if (known.isPresent()) {
      ComputationOutcome.Uncertainty u = known.get();
      slots.number(u.standard()).number(u.expanded()).number(u.lower()).number(u.upper());
      slots.number(u.coverageFactor()).number(u.degreesOfFreedom());
    } else {
      slots.nothing().nothing().nothing().nothing().nothing().nothing();
    }
    if (result.judgement().isPresent()) {
      Judgement j = result.judgement().get();
      slots.number(j.testUncertaintyRatio()).number(j.probability());
      slots.text(JudgementJson.of(j.risk()));
    } else {
      slots.nothing().nothing().nothing();
    }
  }

  private static void insertShort(
      SqlSession session, long result, int number, BudgetComponent component) throws SQLException {
    session.change(KEEP_BUDGET_WORDS, slots -> words(slots, component));
    session.change(
        INSERT_SHORT_BUDGET,
        slots -> {
          words(slots.whole(result).whole(number), component).number(component.value());
          slots.number(component.sensitivity()).number(component.contribution());
          slots.number(component.degreesOfFreedom());
        });
  }

  private static StatementParameters words(StatementParameters slots, BudgetComponent component)
      throws SQLException {
    slots.text(component.component()).text(component.group());
    return slots.text(component.unit()).text(component.distribution().text());
  }

  /** In a store, a result has its own words. */
  private static void insertWhole(SqlSession session, long evaluation, Result result)
      throws SQLException {
    long id =
        session.insert(
            INSERT,
            slots -> {
              slots.whole(evaluation).text(result.quantity().key()).text(result.range());
              slots.text(JsonColumnText.ofAt(result.at()));
              outcome(slots, result.outcome());
              slots.text(result.ppmBase());
              judgement(slots, result.judgement());
              slots.text(result.method()).text(JsonColumnText.ofList(result.notes()));
            });
    for (BudgetComponent each : result.budget()) {
      insert(session, evaluation, id, each);
    }
  }

  private static void insert(
      SqlSession session, long evaluation, long result, BudgetComponent component)
      throws SQLException {
    session.change(
        "INSERT INTO component (/*store month, run_uuid,*/ result_id, component, \"group\", value,"
            + " unit, distribution, sensitivity, contribution, degrees_of_freedom)"
            + " SELECT /*store month, run_uuid,*/ id, ?, ?, CAST(? AS DOUBLE PRECISION), ?, ?,"
            + " CAST(? AS DOUBLE PRECISION), CAST(? AS DOUBLE PRECISION),"
            + " CAST(? AS DOUBLE PRECISION) FROM result WHERE id = ? AND evaluation_id = ?"
            + " /*store AND month = judging_month(?10) AND run_uuid = judging_key(?10)*/",
        slots -> {
          slots.text(component.component()).text(component.group()).number(component.value());
          slots.text(component.unit()).text(component.distribution().text());
          slots.number(component.sensitivity()).number(component.contribution());
          slots.number(component.degreesOfFreedom()).whole(result).whole(evaluation);
        });
  }

  private static OptionalDouble value(ComputationOutcome outcome) {
    if (outcome instanceof ComputationOutcome.Bound bound) {
      return OptionalDouble.of(bound.value());
    }
    return outcome instanceof ComputationOutcome.Value value
        ? OptionalDouble.of(value.value())
        : OptionalDouble.empty();
  }

  private static void outcome(StatementParameters slots, ComputationOutcome outcome)
      throws SQLException {
    slots
        .text(ResultWords.kind(outcome))
        .number(value(outcome))
        .text(ResultWords.missing(outcome))
        .whole(outcome.n());
    Optional<ComputationOutcome.Uncertainty> known = ResultWords.uncertainty(outcome);
    if (known.isEmpty()) {
      slots.nothing().nothing().nothing().nothing().nothing().nothing().nothing();
      return;
    }
    ComputationOutcome.Uncertainty u = known.get();
    slots.number(u.standard()).number(u.expanded()).number(u.lower()).number(u.upper());
    slots.number(u.coverage()).number(u.coverageFactor()).number(u.degreesOfFreedom());
  }

  private static void judgement(StatementParameters slots, Optional<Judgement> known)
      throws SQLException {
    if (known.isEmpty()) {
      slots.nothing().nothing().nothing().nothing().nothing().nothing().nothing();
      slots.nothing().nothing().nothing();
      return;
    }
    Judgement j = known.get();
    slots.number(j.limit().lower()).number(j.limit().upper());
    slots.text(j.rule().kind().text()).number(j.rule().guardFactor());
    slots.text(j.conformity().text()).number(j.testUncertaintyRatio()).number(j.probability());
    slots.text(JudgementJson.of(j.when())).text(JudgementJson.of(j.covers()));
    slots.text(JudgementJson.of(j.risk()));
  }

  /** A result with the number of its row, before its budget is known. */
  private record Numbered(long id, Result result) {}

  static List<Result> results(SqlSession session, long run, RunEvaluation of) throws SQLException {
    Map<Long, List<BudgetComponent>> budgets = components(session, run, of);
    return rows(session, run, of).stream()
        .map(each -> with(each.result(), budgets.getOrDefault(each.id(), List.of())))
        .toList();
  }

  static List<Result> resultsAlone(SqlSession session, long run, RunEvaluation of)
      throws SQLException {
    return rows(session, run, of).stream().map(Numbered::result).toList();
  }

  /** One judging of a run: its number, what the judging rests on and when it was made. */
  private static final String ONE_JUDGING =
      " WHERE r.evaluation_id = (SELECT id FROM evaluation"
          + " WHERE run_id = ? AND basis = ? AND made_at = ? ORDER BY made_at, id DESC LIMIT 1)"
          + " /*store AND r.month = run_month(?1) AND r.run_uuid = run_key(?1)*/";

  private static List<Numbered> rows(SqlSession session, long run, RunEvaluation of)
      throws SQLException {
    ResultRowMapper mapper = new ResultRowMapper(session);
    return session.list(
        "SELECT r.id, "
            + ResultRowMapper.COLUMNS
            + " FROM "
            + ResultRowMapper.table("")
            + " r"
            + ONE_JUDGING
            + " ORDER BY r.id",
        slots -> slots.whole(run).text(of.basis()).instant(of.madeAt()),
        row -> new Numbered(row.whole(), mapper.result(row)));
  }

  /**
   * The judged values of the units of a batch, of each its first run, by its start: a store numbers
   * runs as they were published.
   */
  static List<BatchJudgedValue> batch(SqlSession session, String batch, RunOrigin origin)
      throws SQLException {
    return session.list(
        "SELECT u.uuid, u.started_at, u.unit, r.quantity, r.\"range\", r.limit_when, r.value,"
            + " r.standard_uncertainty FROM run u JOIN evaluation e ON e.id = (SELECT x.id FROM"
            + " evaluation x WHERE x.run_id = u.id ORDER BY x.made_at DESC, x.id DESC LIMIT 1) JOIN "
            + IN_FULL
            + " r ON r.evaluation_id = e.id /*store AND r.month = u.month AND r.run_uuid ="
            + " u.run_uuid*/ WHERE u.batch = ? AND u.origin = ? AND u.id = (SELECT y.id FROM run y"
            + " WHERE y.batch = u.batch AND y.unit = u.unit AND y.origin = u.origin ORDER BY"
            + " y.started_at, y.id LIMIT 1) AND r.kind = 'value' AND r.limit_when IS NOT NULL AND"
            + " r.standard_uncertainty > 0 AND NOT EXISTS (SELECT 1 FROM fact f WHERE f.run_id ="
            + " u.id AND f.name = 'production' AND f.value = 'self-check') ORDER BY u.started_at,"
            + " u.id, r.id",
        slots -> slots.text(batch).text(origin.text()),
        row ->
            new BatchJudgedValue(
                UUID.fromString(row.text()),
                row.instant(),
                row.text(),
                StoredEnumWords.quantity(row.text()),
                row.maybeText(),
                JudgementJson.box(row.text()),
                row.number(),
                row.number()));
  }

  /** Whether the last judging of a run rests on the same and has these results. */
  static boolean isLast(
      SqlSession session, long run, RunEvaluation evaluation, List<Result> results)
      throws SQLException {
    List<RunEvaluation> all = evaluations(session, run);
    if (all.isEmpty() || !all.get(all.size() - 1).basis().equals(evaluation.basis())) {
      return false;
    }
    RunEvaluation last = all.get(all.size() - 1);
    // As they are stored, which is without the model of their measurement.
    List<Result> stored = results.stream().map(each -> with(each, each.budget())).toList();
    return last.reason().equals(evaluation.reason()) && results(session, run, last).equals(stored);
  }

  private static Result with(Result r, List<BudgetComponent> budget) {
    return new Result(
        r.quantity(),
        r.range(),
        r.at(),
        r.outcome(),
        r.judgement(),
        budget,
        r.ppmBase(),
        r.method(),
        r.notes());
  }

  /** The budgets by the number of their result. */
  private static Map<Long, List<BudgetComponent>> components(
      SqlSession session, long run, RunEvaluation of) throws SQLException {
    Map<Long, List<BudgetComponent>> budgets = new HashMap<>();
    session.list(
        "SELECT r.id, c.component, c.\"group\", c.value, c.unit, c.distribution, c.sensitivity,"
            + " c.contribution, c.degrees_of_freedom FROM result r JOIN "
            + BUDGET_IN_FULL
            + " c ON c.result_id = r.id"
            + " /*store AND c.month = r.month AND c.run_uuid = r.run_uuid*/"
            + ONE_JUDGING
            + BUDGET_ORDER,
        slots -> slots.whole(run).text(of.basis()).instant(of.madeAt()),
        row -> budgets.computeIfAbsent(row.whole(), id -> new ArrayList<>()).add(component(row)));
    return budgets;
  }

  private static BudgetComponent component(SqlQueryRow row) throws SQLException {
    return new BudgetComponent(
        row.text(),
        row.text(),
        row.number(),
        row.text(),
        StoredEnumWords.known(ErrorDistribution.class, row.text()),
        row.number(),
        row.number(),
        row.maybeNumber());
  }
}
