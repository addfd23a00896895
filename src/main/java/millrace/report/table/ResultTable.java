// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.quantity.NumberText;
import millrace.report.words.OverallVerdict;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/**
 * Results as a table for the terminal: plain text in aligned columns, with lines short enough for a
 * wide window. A result that was not computed gives the reason. An interval with a different
 * coverage from the others states it.
 *
 * <p>Stateless, thread-safe.
 */
public final class ResultTable {
  private static final int WIDEST = 48;
  private static final double SAME = 1e-6;
  private static final double PERCENT = 100;

  private ResultTable() {}

  /**
   * Formats results in columns: quantity, range, conditions, value with expanded uncertainty (two
   * significant digits of it), limit, conformity, and the reason for a missing value. A summary
   * follows.
   *
   * @param results results in the order of printing; may be empty
   * @return lines, each with its line feed
   */
  public static String print(List<Result> results) {
    TextColumns table =
        new TextColumns(WIDEST, "quantity", "range", "at", "value", "limit", "conformity", "why");
    OptionalDouble usual = usualCoverage(results);
    results.forEach(r -> row(table, r, usual));
    return table.text() + "\n" + verdict(results) + "\n";
  }

  private static String verdict(List<Result> results) {
    OverallVerdict verdict = OverallVerdict.of(results);
    return verdict.word() + ": " + verdict.sentence();
  }

  /** The coverage of most intervals; the table does not state it. */
  private static OptionalDouble usualCoverage(List<Result> results) {
    Map<Double, Integer> count = new TreeMap<>();
    results.stream()
        .flatMap(r -> ResultFigures.uncertainty(r).stream())
        .forEach(u -> count.merge(u.coverage(), 1, Integer::sum));
    return count.entrySet().stream()
        .max(Map.Entry.comparingByValue())
        .map(e -> OptionalDouble.of(e.getKey()))
        .orElseGet(OptionalDouble::empty);
  }

  private static String value(Result r, OptionalDouble usual) {
    String other =
        ResultFigures.uncertainty(r)
            .filter(u -> Math.abs(u.coverage() - usual.orElse(u.coverage())) > SAME)
            .map(u -> ", U at %s %%".formatted(NumberText.significant(PERCENT * u.coverage(), 2)))
            .orElse("");
    return ResultFigures.stated(r).map(s -> s + other).orElse("not computed");
  }

  private static void row(TextColumns table, Result r, OptionalDouble usual) {
    String unit = r.quantity().unit();
    Optional<Judgement> judgement = r.judgement();
    table.row(
        r.quantity().inWords(),
        r.range().orElse(""),
        ResultConditionWords.of(r.at()),
        value(r, usual),
        judgement.map(j -> ResultFigures.limit(j.limit(), unit)).orElse(""),
        judgement.map(j -> j.conformity().text()).orElse(""),
        ResultFigures.missing(r).orElse(""));
  }
}
