// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * Missing measurements for limits that were not evaluated, each with the results that wait for it.
 * Stateless, thread-safe.
 */
public final class MissingMeasurements {
  private MissingMeasurements() {}

  /**
   * The missing measurements.
   *
   * @param results of a run
   * @return sentences such as {@code measure at 5 degC and 50 degC: tempco of 100uA, 1mA}; empty if
   *     every limit was evaluated
   */
  public static List<String> of(List<Result> results) {
    Map<String, List<Result>> waiting = new LinkedHashMap<>();
    results.stream()
        .filter(
            r -> r.judgement().filter(j -> j.conformity() == Conformity.NOT_EVALUATED).isPresent())
        .forEach(r -> waiting.computeIfAbsent(reason(r), why -> new ArrayList<>()).add(r));
    return waiting.entrySet().stream()
        .map(e -> e.getKey() + ": " + ResultWords.each(e.getValue()))
        .toList();
  }

  private static String reason(Result r) {
    List<String> wanting = r.judgement().orElseThrow().covers().wanting();
    if (!wanting.isEmpty()) {
      return String.join("; ", wanting);
    }
    OptionalDouble least = r.judgement().orElseThrow().limit().lower();
    if (r.outcome() instanceof ComputationOutcome.Bound
        && r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE
        && least.isPresent()) {
      return "go on to more than %s at the terminals"
          .formatted(ResultFigures.number(least.getAsDouble(), r.quantity().unit()));
    }
    return ResultFigures.missing(r)
        .orElseGet(
            () ->
                r.outcome() instanceof ComputationOutcome.Bound
                    ? "known only to be "
                        + ResultFigures.inWords(r)
                        + ", allowed is "
                        + ResultFigures.limit(
                            r.judgement().orElseThrow().limit(), r.quantity().unit())
                    : ResultFigures.inWords(r) + " does not decide it");
  }
}
