// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Result;

/**
 * Results as small as many runs need them: parts that are equal in several runs exist once.
 * Single-threaded.
 */
final class SmallResults {
  /** Parts that are known; beyond, most are of one run alone. */
  private static final int MOST = 20_000;

  private final Map<Object, Object> known = new HashMap<>();

  /** The same results, small. */
  List<Result> of(List<Result> results) {
    return results.stream().map(this::of).toList();
  }

  private Result of(Result r) {
    return new Result(
        r.quantity(),
        one(r.range()),
        one(r.at()),
        r.outcome() instanceof ComputationOutcome.Missing ? one(r.outcome()) : r.outcome(),
        r.judgement().map(this::of),
        r.budget(),
        one(r.ppmBase()),
        one(r.method()),
        one(r.notes()),
        r.model());
  }

  private Judgement of(Judgement j) {
    return new Judgement(
        one(j.limit()),
        one(j.when()),
        one(j.rule()),
        j.conformity(),
        j.testUncertaintyRatio(),
        j.probability(),
        one(j.covers()),
        one(j.risk()));
  }

  /** The first of all equal ones. */
  @SuppressWarnings("unchecked") // equal records, texts and optionals are of one class
  private <T> T one(T part) {
    Object first = known.size() < MOST ? known.putIfAbsent(part, part) : known.get(part);
    return first == null ? part : (T) first;
  }
}
