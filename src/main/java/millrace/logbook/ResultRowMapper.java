// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import org.jspecify.annotations.Nullable;

/**
 * Makes results of rows of the table {@code result}, as {@link #COLUMNS} asks for them. The words
 * of a result stand in the rows of many runs, and are made once. Single-threaded.
 */
final class ResultRowMapper {
  /** Values that are kept of a kind, so that those without repetition cost no memory. */
  private static final int MOST = 4096;

  /** Numbers that are a result's own. */
  private static final List<String> NUMBERS =
      List.of(
          "value",
          "standard_uncertainty",
          "expanded_uncertainty",
          "lower",
          "upper",
          "coverage_factor",
          "degrees_of_freedom",
          "tur",
          "probability_of_conformity");

  /** Columns of an uncertainty. */
  private static final int UNCERTAINTY = 6;

  /**
   * What is read of a result r: its words (in a file their number), how many data, whether there is
   * nothing else, and its own numbers. Most results of a run are not computed: of those nothing
   * else is fetched.
   */
  static final String COLUMNS =
      "/*file r.words_id*/ r.words, r.n, CAST(r.value IS NULL AND r.tur IS NULL AND"
          + " r.probability_of_conformity IS NULL AND coalesce(r.risk, '{}') = '{}' AS INTEGER), "
          + NUMBERS.stream().map(c -> "r." + c).collect(Collectors.joining(", "))
          + ", r.risk";

  /**
   * The table of results, to be called r: that of a store has all words of a result in a column
   * more.
   *
   * @param which of the store's results x, where there is more to say
   */
  static String table(String which) {
    return "/*store LATERAL (SELECT x.month, x.run_uuid, x.id, x.evaluation_id, x.n, x.risk, "
        + NUMBERS.stream().map(c -> "x." + c).collect(Collectors.joining(", "))
        + ", "
        + ResultWords.inOneText("x")
        + " AS words FROM*/ result /*store x"
        + which
        + ")*/";
  }

  private final SqlSession session;
  private final boolean numbered;
  private final Map<Long, Wording> byNumber = new HashMap<>();
  private final Repeated<Wording> byText =
      new Repeated<>(text -> new Wording(ResultWords.of(text)));

  private final Repeated<ResultConditions> conditions = new Repeated<>(JsonColumnText::at);
  private final Repeated<List<String>> notes =
      new Repeated<>(text -> List.copyOf(JsonColumnText.list(text)));
  private final Repeated<ConditionBox> boxes = new Repeated<>(JudgementJson::box);
  private final Repeated<BoxJudgementBasis> bases = new Repeated<>(JudgementJson::covers);
  private final Repeated<Judgement.Risk> risks = new Repeated<>(JudgementJson::risk);
  private final Repeated<Optional<String>> texts = new Repeated<>(Optional::of);
  private final Map<Limit, Limit> limits = new HashMap<>();
  private final Map<DecisionRule, DecisionRule> rules = new HashMap<>();

  /** For rows of a session. */
  ResultRowMapper(SqlSession session) {
    this.session = session;
    this.numbered = session.engine().store().isEmpty();
  }

  /**
   * Values of a column by their text.
   *
   * @param <T> immutable
   */
  private static final class Repeated<T> {
    private final Map<String, T> known = new HashMap<>();
    private final Function<String, T> made;

    Repeated(Function<String, T> made) {
      this.made = made;
    }

    T of(String text) {
      T value = known.get(text);
      if (value == null) {
        value = made.apply(text);
        if (known.size() >= MOST) {
          known.clear();
        }
        known.put(text, value);
      }
      return value;
    }
  }

  /** What results with the same words have in common, made once. */
  private final class Wording {
    private final ResultQuantity quantity;
    private final Optional<String> range;
    private final ResultConditions at;
    private final String kind;
    private final Optional<String> missing;
    private final OptionalDouble coverage;
    private final Optional<String> ppmBase;
    private final Optional<Verdict> verdict;
    private final String method;
    private final List<String> remarks;
    private @Nullable Result bare;

    Wording(ResultWords words) {
      this.quantity = StoredEnumWords.quantity(words.quantity());
      this.range = words.range().flatMap(texts::of);
      this.at = conditions.of(words.at());
      this.kind = words.kind();
      this.missing = words.missing();
      this.coverage = words.coverage();
      this.ppmBase = words.ppmBase().flatMap(texts::of);
      this.verdict = words.conformity().map(word -> verdict(words, word));
      this.method = words.method();
      this.remarks = notes.of(words.notes());
    }

    private Verdict verdict(ResultWords words, String conformity) {
      return new Verdict(
          once(limits, new Limit(words.limitLower(), words.limitUpper())),
          once(
              rules,
              new DecisionRule(
                  StoredEnumWords.known(DecisionRule.Kind.class, words.decisionRule().orElse("")),
                  words.guardFactor().orElse(0))),
          StoredEnumWords.known(Conformity.class, conformity),
          boxes.of(words.limitWhen().orElse("{}")),
          bases.of(words.covers().orElse("{}")));
    }

    /** The result that has nothing but these words and so many data. */
    Result bare(int n) {
      Result known = bare;
      if (known == null || known.outcome().n() != n) {
        known =
            with(
                new ComputationOutcome.Missing(missing.orElse(""), n),
                verdict.map(
                    v ->
                        v.judgement(
                            OptionalDouble.empty(), OptionalDouble.empty(), risks.of("{}"))));
        bare = known;
      }
      return known;
    }

    Result with(ComputationOutcome outcome, Optional<Judgement> judgement) {
      return new Result(
          quantity, range, at, outcome, judgement, List.of(), ppmBase, method, remarks);
    }
  }

  /** What judgements with the same words have in common. */
  private record Verdict(
      Limit limit,
      DecisionRule rule,
      Conformity conformity,
      ConditionBox when,
      BoxJudgementBasis covers) {
    Judgement judgement(OptionalDouble tur, OptionalDouble probability, Judgement.Risk risk) {
      return new Judgement(limit, when, rule, conformity, tur, probability, covers, risk);
    }
  }

  private Wording wording(SqlQueryRow row) throws SQLException {
    if (!numbered) {
      return byText.of(row.text());
    }
    long number = row.whole();
    Wording known = byNumber.get(number);
    if (known == null) {
      known = new Wording(ResultWords.of(session, number));
      if (byNumber.size() >= MOST) {
        byNumber.clear();
      }
      byNumber.put(number, known);
    }
    return known;
  }

  /** The result in the present row, whose next column is its first. */
  Result result(SqlQueryRow row) throws SQLException {
    Wording said = wording(row);
    int n = (int) row.whole();
    if (row.whole() != 0) {
      return said.bare(n);
    }
    ComputationOutcome outcome = outcome(row, said, n);
    return said.with(
        outcome,
        said.verdict.isPresent()
            ? Optional.of(judgement(row, said.verdict.get()))
            : Optional.empty());
  }

  private static ComputationOutcome outcome(SqlQueryRow row, Wording said, int n)
      throws SQLException {
    if (said.missing.isPresent()) {
      row.skip(1 + UNCERTAINTY);
      return new ComputationOutcome.Missing(said.missing.get(), n);
    }
    double value = row.number();
    Optional<ComputationOutcome.Uncertainty> uncertainty = uncertainty(row, said.coverage);
    return said.kind.equals("value")
        ? new ComputationOutcome.Value(value, uncertainty, n)
        : new ComputationOutcome.Bound(
            StoredEnumWords.known(ComputationOutcome.Side.class, said.kind), value, n);
  }

  private static Optional<ComputationOutcome.Uncertainty> uncertainty(
      SqlQueryRow row, OptionalDouble coverage) throws SQLException {
    OptionalDouble standard = row.maybeNumber();
    if (standard.isEmpty()) {
      row.skip(UNCERTAINTY - 1);
      return Optional.empty();
    }
    return Optional.of(
        new ComputationOutcome.Uncertainty(
            standard.getAsDouble(),
            row.number(),
            row.number(),
            row.number(),
            coverage.orElse(0),
            row.number(),
            row.maybeNumber()));
  }

  private Judgement judgement(SqlQueryRow row, Verdict verdict) throws SQLException {
    return verdict.judgement(
        row.maybeNumber(), row.maybeNumber(), risks.of(row.maybeText().orElse("{}")));
  }

  /** Equal values of many words are kept once. */
  private static <T> T once(Map<T, T> known, T value) {
    if (known.size() >= MOST) {
      known.clear();
    }
    return known.computeIfAbsent(value, v -> v);
  }
}
