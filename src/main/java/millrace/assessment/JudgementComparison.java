// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;

/**
 * Two judgements of the same readings.
 *
 * @param earlier the earlier judgement
 * @param pairs results that differ, in the order of the new results; results that only the earlier
 *     one has come last
 * @param alike number of results that agree within a hundredth of their uncertainty
 * @param before overall conformity of the earlier results; empty if none has a limit
 * @param now overall conformity of the new results; empty if none has a limit
 */
public record JudgementComparison(
    RunEvaluation earlier,
    List<Pair> pairs,
    int alike,
    Optional<Conformity> before,
    Optional<Conformity> now) {
  /** Copies the list. */
  public JudgementComparison {
    pairs = List.copyOf(pairs);
  }

  /**
   * One quantity in both judgements; one of them may lack it.
   *
   * @param before its earlier result
   * @param now its new result
   */
  public record Pair(Optional<Result> before, Optional<Result> now) {
    /** A change below this share of the expanded uncertainty does not count. */
    private static final double ALIKE = 0.01;

    /**
     * One of the two results, for what both have in common.
     *
     * @return the new one if there is one
     */
    public Result either() {
      return now.or(() -> before).orElseThrow();
    }

    private boolean alike() {
      return before.isPresent() && now.isPresent() && alike(before.get(), now.get());
    }

    private static boolean alike(Result a, Result b) {
      return judged(a).equals(judged(b))
          && (a.outcome().equals(b.outcome()) || near(a.outcome(), b.outcome()));
    }

    private static List<Object> judged(Result r) {
      return r.judgement()
          .map(j -> List.<Object>of(j.conformity(), j.limit(), j.when()))
          .orElse(List.of());
    }

    private static boolean near(ComputationOutcome a, ComputationOutcome b) {
      return a instanceof ComputationOutcome.Value x
          && b instanceof ComputationOutcome.Value y
          && x.uncertainty().isPresent()
          && y.uncertainty().isPresent()
          && near(x.value(), y.value(), x.uncertainty().get())
          && near(x.uncertainty().get(), y.uncertainty().get());
    }

    private static boolean near(
        ComputationOutcome.Uncertainty a, ComputationOutcome.Uncertainty b) {
      return near(a.expanded(), b.expanded(), a);
    }

    private static boolean near(double a, double b, ComputationOutcome.Uncertainty u) {
      return Math.abs(a - b) <= ALIKE * u.expanded();
    }
  }

  /**
   * Compares an assessment with the last judgement of the same run that differs from it.
   *
   * @param reader the run
   * @param assessment an assessment of it, saved or not
   * @return the comparison; empty if every judgement agrees
   */
  public static Optional<JudgementComparison> of(RunReader reader, Assessment assessment) {
    List<RunEvaluation> newestFirst = new ArrayList<>(reader.evaluations());
    Collections.reverse(newestFirst);
    return newestFirst.stream()
        .map(e -> between(e, reader.resultsAlone(e), assessment.results()))
        .filter(s -> !s.pairs().isEmpty())
        .findFirst();
  }

  private static JudgementComparison between(
      RunEvaluation earlier, List<Result> before, List<Result> now) {
    Map<Measurand, Deque<Result>> waiting = new LinkedHashMap<>();
    before.forEach(
        r -> waiting.computeIfAbsent(Measurand.of(r), m -> new ArrayDeque<>()).addLast(r));
    List<Pair> pairs = new ArrayList<>();
    for (Result result : now) {
      Deque<Result> there = waiting.getOrDefault(Measurand.of(result), new ArrayDeque<>());
      pairs.add(new Pair(Optional.ofNullable(there.pollFirst()), Optional.of(result)));
    }
    waiting
        .values()
        .forEach(left -> left.forEach(r -> pairs.add(new Pair(Optional.of(r), Optional.empty()))));
    List<Pair> changed = pairs.stream().filter(p -> !p.alike()).toList();
    return new JudgementComparison(
        earlier,
        changed,
        pairs.size() - changed.size(),
        Result.together(before),
        Result.together(now));
  }
}
