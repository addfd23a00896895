// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.quantity.NumberText;

/**
 * What a result shares with those of other runs, in a file a row of the table {@code result_words}:
 * all its words, and the numbers of its promise. Columns by their names; empty where a result has
 * nothing of the kind.
 */
record ResultWords(
    String quantity,
    Optional<String> range,
    String at,
    String kind,
    Optional<String> missing,
    OptionalDouble coverage,
    Optional<String> ppmBase,
    OptionalDouble limitLower,
    OptionalDouble limitUpper,
    Optional<String> decisionRule,
    OptionalDouble guardFactor,
    Optional<String> conformity,
    Optional<String> limitWhen,
    Optional<String> covers,
    String method,
    String notes) {

  /** The columns of a set of words, in the order of the components. */
  private static final List<String> NAMES =
      List.of(
          "quantity",
          "\"range\"",
          "at",
          "kind",
          "missing",
          "coverage",
          "ppm_base",
          "limit_lower",
          "limit_upper",
          "decision_rule",
          "guard_factor",
          "conformity",
          "limit_when",
          "covers",
          "method",
          "notes");

  static final String COLUMNS = String.join(", ", NAMES);

  private static final String PLACES = String.join(", ", Collections.nCopies(NAMES.size(), "?"));

  /** Parts words in one text. Those of Millrace are of closed families or JSON, without it. */
  private static final char PARTS = '\u001f';

  /** Stands in one text for what is not there. */
  private static final String NOTHING = "\u0001";

  private static final String FIND =
      "SELECT id FROM result_words WHERE once = ? AND (" + COLUMNS + ") IS (" + PLACES + ")";

  private static final String BY_NUMBER = "SELECT " + COLUMNS + " FROM result_words WHERE id = ?";

  private static final String INSERT =
      "INSERT INTO result_words (once, " + COLUMNS + ") VALUES (?, " + PLACES + ")";

  /** In SQL of a store, all words of a result in one text, of a table by that name. */
  static String inOneText(String table) {
    return NAMES.stream()
        .map(name -> "coalesce(CAST(" + table + "." + name + " AS TEXT), '" + NOTHING + "')")
        .collect(Collectors.joining(", ", "concat_ws('" + PARTS + "', ", ")"));
  }

  /**
   * The words in a text that a store made. A server prints numbers so that their bits come back.
   */
  static ResultWords of(String text) {
    List<Optional<String>> parts = new ArrayList<>();
    int from = 0;
    for (int to = text.indexOf(PARTS); to >= 0; to = text.indexOf(PARTS, from)) {
      parts.add(maybe(text.substring(from, to)));
      from = to + 1;
    }
    parts.add(maybe(text.substring(from)));
    if (parts.size() != NAMES.size()) {
      throw new IllegalArgumentException("words of a result with a control character");
    }
    Iterator<Optional<String>> next = parts.iterator();
    return new ResultWords(
        next.next().orElseThrow(),
        next.next(),
        next.next().orElseThrow(),
        next.next().orElseThrow(),
        next.next(),
        number(next.next()),
        next.next(),
        number(next.next()),
        number(next.next()),
        next.next(),
        number(next.next()),
        next.next(),
        next.next(),
        next.next(),
        next.next().orElseThrow(),
        next.next().orElseThrow());
  }

  private static Optional<String> maybe(String part) {
    return part.equals(NOTHING) ? Optional.empty() : Optional.of(part);
  }

  private static OptionalDouble number(Optional<String> part) {
    return part.isPresent()
        ? OptionalDouble.of(NumberText.parse(part.get()).orElseThrow())
        : OptionalDouble.empty();
  }

  /** The words of a number in a file. */
  static ResultWords of(SqlSession session, long number) throws SQLException {
    return session
        .one(BY_NUMBER, slots -> slots.whole(number), ResultWords::of)
        .orElseThrow(() -> new IllegalArgumentException("no words of number " + number));
  }

  /** That words of two tables by these names are the same. */
  static String same(String one, String other) {
    return one
        + ".once = "
        + other
        + ".once AND "
        + NAMES.stream()
            .map(name -> one + "." + name + " IS " + other + "." + name)
            .collect(Collectors.joining(" AND "));
  }

  static ResultWords of(Result result) {
    ComputationOutcome outcome = result.outcome();
    Optional<Judgement> judged = result.judgement();
    return new ResultWords(
        result.quantity().key(),
        result.range(),
        JsonColumnText.ofAt(result.at()),
        kind(outcome),
        missing(outcome),
        uncertainty(outcome)
            .map(u -> OptionalDouble.of(u.coverage()))
            .orElse(OptionalDouble.empty()),
        result.ppmBase(),
        judged.map(j -> j.limit().lower()).orElse(OptionalDouble.empty()),
        judged.map(j -> j.limit().upper()).orElse(OptionalDouble.empty()),
        judged.map(j -> j.rule().kind().text()),
        judged.map(j -> OptionalDouble.of(j.rule().guardFactor())).orElse(OptionalDouble.empty()),
        judged.map(j -> j.conformity().text()),
        judged.map(j -> JudgementJson.of(j.when())),
        judged.map(j -> JudgementJson.of(j.covers())),
        result.method(),
        JsonColumnText.ofList(result.notes()));
  }

  /** What the column {@code kind} says of an outcome. */
  static String kind(ComputationOutcome outcome) {
    if (outcome instanceof ComputationOutcome.Bound bound) {
      return bound.side().text();
    }
    return outcome instanceof ComputationOutcome.Value ? "value" : "missing";
  }

  /** The reason of an outcome that was not computed. */
  static Optional<String> missing(ComputationOutcome outcome) {
    return outcome instanceof ComputationOutcome.Missing missing
        ? Optional.of(missing.reason())
        : Optional.empty();
  }

  /** The uncertainty of an outcome, where it has one. */
  static Optional<ComputationOutcome.Uncertainty> uncertainty(ComputationOutcome outcome) {
    return outcome instanceof ComputationOutcome.Value value
        ? value.uncertainty()
        : Optional.empty();
  }

  private static ResultWords of(SqlQueryRow row) throws SQLException {
    return new ResultWords(
        row.text(),
        row.maybeText(),
        row.text(),
        row.text(),
        row.maybeText(),
        row.maybeNumber(),
        row.maybeText(),
        row.maybeNumber(),
        row.maybeNumber(),
        row.maybeText(),
        row.maybeNumber(),
        row.maybeText(),
        row.maybeText(),
        row.maybeText(),
        row.text(),
        row.text());
  }

  /**
   * The number that words are found by, the same by every Java: the hash codes of lists, texts,
   * numbers and optional values are laid down in their documentation. That of a record is not.
   */
  private long once() {
    return List.of(
            quantity,
            range,
            at,
            kind,
            missing,
            coverage,
            ppmBase,
            limitLower,
            limitUpper,
            decisionRule,
            guardFactor,
            conformity,
            limitWhen,
            covers,
            method,
            notes)
        .hashCode();
  }

  private void into(StatementParameters slots) throws SQLException {
    slots.text(quantity).text(range).text(at).text(kind).text(missing).number(coverage);
    slots.text(ppmBase).number(limitLower).number(limitUpper).text(decisionRule);
    slots.number(guardFactor).text(conformity).text(limitWhen).text(covers);
    slots.text(method).text(notes);
  }

  /** Their number in a file, to which they are added where they are not there yet. */
  long kept(SqlSession session) throws SQLException {
    Optional<Long> there =
        session.one(FIND, slots -> into(slots.whole(once())), SqlQueryRow::whole);
    return there.isPresent()
        ? there.get()
        : session.insert(INSERT, slots -> into(slots.whole(once())));
  }

  /** Makes the words of an older file, which were moved as they are, such as can be found. */
  static void number(SqlSession session) throws SQLException {
    record Row(long id, ResultWords words) {}
    List<Row> all =
        session.list(
            "SELECT id, " + COLUMNS + " FROM result_words WHERE once IS NULL",
            slots -> {},
            row -> new Row(row.whole(), of(row)));
    for (Row each : all) {
      session.change(
          "UPDATE result_words SET once = ? WHERE id = ?",
          slots -> slots.whole(each.words().once()).whole(each.id()));
    }
  }
}
