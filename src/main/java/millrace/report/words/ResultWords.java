// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Result;

/** One result in a few words, for places without room for a table. Stateless, thread-safe. */
public final class ResultWords {
  private ResultWords() {}

  /**
   * The quantity and range of a result.
   *
   * @param result a result
   * @return words such as {@code current error of 1mA}
   */
  public static String name(Result result) {
    return result.quantity().inWords() + result.range().map(r -> " of " + r).orElse("");
  }

  /**
   * Several results, grouped by quantity with its ranges.
   *
   * @param results the results
   * @return words such as {@code tempco of 100uA, 1mA; current error of 1mA}
   */
  public static String each(List<Result> results) {
    Map<String, Set<String>> ranges = new LinkedHashMap<>();
    results.forEach(
        r ->
            ranges
                .computeIfAbsent(r.quantity().inWords(), q -> new LinkedHashSet<>())
                .add(r.range().orElse("the unit")));
    return ranges.entrySet().stream()
        .map(e -> e.getKey() + " of " + String.join(", ", e.getValue()))
        .collect(Collectors.joining("; "));
  }

  /**
   * The conditions of a result, its value with uncertainty, and its limit.
   *
   * @param result a result
   * @return words such as {@code 0 V at the terminals: (212 ± 29) ppm, limit -150 to 150 ppm}
   */
  public static String figures(Result result) {
    String at = ResultConditionWords.of(result.at());
    String limit =
        result
            .judgement()
            .map(j -> ", limit " + ResultFigures.limit(j.limit(), result.quantity().unit()))
            .orElse("");
    return (at.isEmpty() ? "" : at + ": ") + ResultFigures.inWords(result) + limit;
  }

  /**
   * A judged result in full.
   *
   * @param result a result with a limit
   * @return words such as {@code current error of 1mA: (212 ± 29) ppm; limit -150 to 150 ppm, 2.1 U
   *     beyond; 0 V at the terminals}
   */
  public static String inFull(Result result) {
    Judgement j = result.judgement().orElseThrow();
    String margin = LimitMargin.inWords(result);
    String at = ResultConditionWords.of(result.at());
    return name(result)
        + ": "
        + ResultFigures.inWords(result)
        + "; limit "
        + ResultFigures.limit(j.limit(), result.quantity().unit())
        + (margin.isEmpty() ? "" : ", " + margin)
        + (at.isEmpty() ? "" : "; " + at)
        + taken(j.covers())
        + (j.conformity() == Conformity.CONDITIONAL_FAIL ? "; conditional fail" : "")
        + hopeless(result);
  }

  /**
   * Whether U left no room for any value to pass, so that the failed limit says nothing of the
   * unit.
   *
   * @param result a judged result
   * @return a clause with what leads to it; empty if a value could have passed
   */
  public static String hopeless(Result result) {
    return result.notes().stream()
        .filter(n -> n.contains("could have passed"))
        .findFirst()
        .map(n -> "; " + n)
        .orElse("");
  }

  /** The basis of a verdict that was not measured on this unit. */
  private static String taken(BoxJudgementBasis covers) {
    return switch (covers.basis()) {
      case MEASURED, PREDICTED -> "";
      case BY_ASSUMPTION, TYPE_RUN, BATCH, DESIGN -> "; " + BoxJudgementWords.basis(covers);
    };
  }

  /**
   * An amount in the unit of a result, two digits.
   *
   * @param amount amount in the unit of the result's quantity
   * @param like the result
   * @return the amount with its unit
   */
  public static String amount(double amount, Result like) {
    return ResultFigures.size(amount, like.quantity().unit());
  }
}
