// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
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
 * Makes results of rows of the table {@code result}, in the order of {@link ResultSqlRows#COLUMNS}.
 * Most texts stand in the rows of many runs, and are taken apart once. Single-threaded.
 */
final class ResultRowMapper {
  /** Texts that are kept of a column, so that columns without repetition cost no memory. */
  private static final int MOST = 1000;

  private final Repeated<ResultConditions> conditions = new Repeated<>(JsonColumnText::at);
  private final Repeated<List<String>> notes =
      new Repeated<>(text -> List.copyOf(JsonColumnText.list(text)));
  private final Repeated<ConditionBox> boxes = new Repeated<>(JudgementJson::box);
  private final Repeated<BoxJudgementBasis> bases = new Repeated<>(JudgementJson::covers);
  private final Repeated<Judgement.Risk> risks = new Repeated<>(JudgementJson::risk);
  private final Repeated<Optional<String>> words = new Repeated<>(Optional::of);
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

  /** The result in the present row, whose next column is its first. */
  Result result(SqlQueryRow row) throws SQLException {
    ResultQuantity quantity = StoredEnumWords.quantity(row.text());
    Optional<String> range = row.maybeText().flatMap(words::of);
    ResultConditions at = conditions.of(row.text());
    ComputationOutcome outcome = outcome(row);
    Optional<String> ppmBase = row.maybeText().flatMap(words::of);
    Optional<Judgement> judgement = judgement(row);
    return new Result(
        quantity,
        range,
        at,
        outcome,
        judgement,
        List.of(),
        ppmBase,
        row.text(),
        notes.of(row.text()));
  }

  private static ComputationOutcome outcome(SqlQueryRow row) throws SQLException {
    String kind = row.text();
    double value = row.number();
    Optional<String> missing = row.maybeText();
    int n = (int) row.whole();
    Optional<ComputationOutcome.Uncertainty> uncertainty = uncertainty(row);
    if (missing.isPresent()) {
      return new ComputationOutcome.Missing(missing.get(), n);
    }
    return kind.equals("value")
        ? new ComputationOutcome.Value(value, uncertainty, n)
        : new ComputationOutcome.Bound(
            StoredEnumWords.known(ComputationOutcome.Side.class, kind), value, n);
  }

  private static Optional<ComputationOutcome.Uncertainty> uncertainty(SqlQueryRow row)
      throws SQLException {
    OptionalDouble standard = row.maybeNumber();
    ComputationOutcome.Uncertainty known =
        new ComputationOutcome.Uncertainty(
            standard.orElse(0),
            row.number(),
            row.number(),
            row.number(),
            row.number(),
            row.number(),
            row.maybeNumber());
    return standard.isPresent() ? Optional.of(known) : Optional.empty();
  }

  private Optional<Judgement> judgement(SqlQueryRow row) throws SQLException {
    OptionalDouble lower = row.maybeNumber();
    OptionalDouble upper = row.maybeNumber();
    Optional<String> rule = row.maybeText();
    double guardFactor = row.number();
    Optional<String> conformity = row.maybeText();
    OptionalDouble tur = row.maybeNumber();
    OptionalDouble probability = row.maybeNumber();
    Optional<String> when = row.maybeText();
    Optional<String> covers = row.maybeText();
    Optional<String> risk = row.maybeText();
    return conformity.map(
        word ->
            new Judgement(
                once(limits, new Limit(lower, upper)),
                boxes.of(when.orElse("{}")),
                once(rules, new DecisionRule(kind(rule.orElse("")), guardFactor)),
                StoredEnumWords.known(Conformity.class, word),
                tur,
                probability,
                bases.of(covers.orElse("{}")),
                risks.of(risk.orElse("{}"))));
  }

  /** Equal values of hundreds of thousands of results are kept once. */
  private static <T> T once(Map<T, T> known, T value) {
    if (known.size() >= MOST) {
      known.clear();
    }
    return known.computeIfAbsent(value, v -> v);
  }

  private static DecisionRule.Kind kind(String word) {
    return StoredEnumWords.known(DecisionRule.Kind.class, word);
  }
}
