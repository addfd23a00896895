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

/**
 * Makes results of rows of the table {@code result}, as {@link #columns} asks for them. Most texts
 * stand in the rows of many runs, and are taken apart once. Single-threaded.
 */
final class ResultRowMapper {
  /** Texts that are kept of a column, so that columns without repetition cost no memory. */
  private static final int MOST = 1000;

  /** Parts the words of a result. What Millrace writes there never holds it, see {@link #WORDS}. */
  private static final char PARTS = '\u001f';

  /** Stands in the words of a result for what is not there. */
  private static final String NOTHING = "\u0001";

  /**
   * What the results of thousands of runs say in the same words, in one text, so that it is fetched
   * once and taken apart once. Each of them is of a closed family or JSON, without control
   * characters.
   */
  private static final List<String> WORDS =
      List.of(
          "quantity",
          "at",
          "kind",
          "ppm_base",
          "decision_rule",
          "conformity",
          "limit_when",
          "covers",
          "method",
          "notes");

  private static final List<String> OTHERS =
      List.of(
          "\"range\"",
          "missing",
          "n",
          "value",
          "standard_uncertainty",
          "expanded_uncertainty",
          "lower",
          "upper",
          "coverage",
          "coverage_factor",
          "degrees_of_freedom",
          "limit_lower",
          "limit_upper",
          "guard_factor",
          "tur",
          "probability_of_conformity",
          "risk");

  private static final int QUANTITY = 0;
  private static final int AT = 1;
  private static final int KIND = 2;
  private static final int PPM_BASE = 3;
  private static final int RULE = 4;
  private static final int CONFORMITY = 5;
  private static final int WHEN = 6;
  private static final int COVERS = 7;
  private static final int METHOD = 8;
  private static final int NOTES = 9;

  /** Columns of an uncertainty. */
  private static final int UNCERTAINTY = 7;

  private final Repeated<Wording> wordings = new Repeated<>(this::wording);

  private final Repeated<ResultConditions> conditions = new Repeated<>(JsonColumnText::at);
  private final Repeated<List<String>> notes =
      new Repeated<>(text -> List.copyOf(JsonColumnText.list(text)));
  private final Repeated<ConditionBox> boxes = new Repeated<>(JudgementJson::box);
  private final Repeated<BoxJudgementBasis> bases = new Repeated<>(JudgementJson::covers);
  private final Repeated<Judgement.Risk> risks = new Repeated<>(JudgementJson::risk);
  private final Repeated<Optional<String>> words = new Repeated<>(Optional::of);
  private final Map<ComputationOutcome.Missing, ComputationOutcome.Missing> missing =
      new HashMap<>();
  private final Map<Limit, Limit> limits = new HashMap<>();
  private final Map<DecisionRule, DecisionRule> rules = new HashMap<>();

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

  /** What is read of a result, of a table by that name. */
  static String columns(String table) {
    String words =
        WORDS.stream()
            .map(column -> "coalesce(" + table + "." + column + ", '" + NOTHING + "')")
            .collect(Collectors.joining(", "));
    return "concat_ws('"
        + PARTS
        + "', "
        + words
        + "), "
        + OTHERS.stream().map(c -> table + "." + c).collect(Collectors.joining(", "));
  }

  /**
   * What stands in one text, see {@link #WORDS}.
   *
   * @param kind whether it is a value or a bound
   */
  private record Wording(
      ResultQuantity quantity,
      ResultConditions at,
      String kind,
      Optional<String> ppmBase,
      Optional<Verdict> verdict,
      String method,
      List<String> notes) {}

  /** The words of a judgement. */
  private record Verdict(
      DecisionRule.Kind rule, Conformity conformity, ConditionBox when, BoxJudgementBasis covers) {}

  private Wording wording(String text) {
    String[] parts = new String[WORDS.size()];
    int from = 0;
    for (int i = 0; i < parts.length; i++) {
      int to = text.indexOf(PARTS, from);
      if (to < 0 != (i == parts.length - 1)) {
        throw new IllegalArgumentException("words of a result with a control character");
      }
      parts[i] = to < 0 ? text.substring(from) : text.substring(from, to);
      from = to + 1;
    }
    return new Wording(
        StoredEnumWords.quantity(parts[QUANTITY]),
        conditions.of(parts[AT]),
        parts[KIND],
        maybe(parts[PPM_BASE]).flatMap(words::of),
        verdict(parts),
        parts[METHOD],
        notes.of(parts[NOTES]));
  }

  private Optional<Verdict> verdict(String[] parts) {
    return maybe(parts[CONFORMITY])
        .map(
            word ->
                new Verdict(
                    StoredEnumWords.known(DecisionRule.Kind.class, maybe(parts[RULE]).orElse("")),
                    StoredEnumWords.known(Conformity.class, word),
                    boxes.of(maybe(parts[WHEN]).orElse("{}")),
                    bases.of(maybe(parts[COVERS]).orElse("{}"))));
  }

  private static Optional<String> maybe(String part) {
    return part.equals(NOTHING) ? Optional.empty() : Optional.of(part);
  }

  /** The result in the present row, whose next column is its first. */
  Result result(SqlQueryRow row) throws SQLException {
    Wording said = wordings.of(row.text());
    Optional<String> range = row.maybeText().flatMap(words::of);
    ComputationOutcome outcome = outcome(row, said.kind());
    Optional<Judgement> judgement =
        said.verdict().isPresent()
            ? Optional.of(judgement(row, said.verdict().get()))
            : Optional.empty();
    return new Result(
        said.quantity(),
        range,
        said.at(),
        outcome,
        judgement,
        List.of(),
        said.ppmBase(),
        said.method(),
        said.notes());
  }

  /** Most results of a run are not computed: of their numbers nothing is fetched. */
  private ComputationOutcome outcome(SqlQueryRow row, String kind) throws SQLException {
    Optional<String> reason = row.maybeText();
    int n = (int) row.whole();
    if (reason.isPresent()) {
      row.skip(1 + UNCERTAINTY);
      return once(missing, new ComputationOutcome.Missing(reason.get(), n));
    }
    double value = row.number();
    Optional<ComputationOutcome.Uncertainty> uncertainty = uncertainty(row);
    return kind.equals("value")
        ? new ComputationOutcome.Value(value, uncertainty, n)
        : new ComputationOutcome.Bound(
            StoredEnumWords.known(ComputationOutcome.Side.class, kind), value, n);
  }

  private static Optional<ComputationOutcome.Uncertainty> uncertainty(SqlQueryRow row)
      throws SQLException {
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
            row.number(),
            row.number(),
            row.maybeNumber()));
  }

  private Judgement judgement(SqlQueryRow row, Verdict verdict) throws SQLException {
    Limit limit = once(limits, new Limit(row.maybeNumber(), row.maybeNumber()));
    DecisionRule rule = once(rules, new DecisionRule(verdict.rule(), row.number()));
    return new Judgement(
        limit,
        verdict.when(),
        rule,
        verdict.conformity(),
        row.maybeNumber(),
        row.maybeNumber(),
        verdict.covers(),
        risks.of(row.maybeText().orElse("{}")));
  }

  /** Equal values of hundreds of thousands of results are kept once. */
  private static <T> T once(Map<T, T> known, T value) {
    if (known.size() >= MOST) {
      known.clear();
    }
    return known.computeIfAbsent(value, v -> v);
  }
}
