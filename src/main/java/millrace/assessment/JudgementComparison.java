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
 * Results of the same readings, judged twice.
 *
 * @param earlier the judging before
 * @param pairs what differs, in the order of the new results; what only the earlier one had last
 * @param alike how many results are the same in both to a hundredth of their uncertainty
 * @param before what the earlier results come to together; empty if none has a limit
 * @param now what the new results come to together; empty if none has a limit
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
   * One quantity in both; one of them may lack it.
   *
   * @param before as it was judged before
   * @param now as it is judged now
   */
  public record Pair(Optional<Result> before, Optional<Result> now) {
    /** Share of the expanded uncertainty below which a change is none. */
    private static final double ALIKE = 0.01;

    /**
     * Either of both, for what they have in common.
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
   * Holds an assessment against the last judging of the same run that came to something else.
   *
   * @param reader the run
   * @param assessment an assessment of it, saved or not
   * @return both side by side; empty where every judging came to the same
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
