// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.Comparator;
import java.util.List;
import millrace.assessment.Assessment;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;

/**
 * Answer of a run in the order of a reader's questions: the verdict, the unmet limits, the results
 * nearest to a limit. It is the same on a terminal, in a report, and in a note.
 *
 * <p>Immutable, thread-safe.
 */
public final class RunVerdictText {
  private final Assessment assessment;
  private final List<Result> judged;

  /**
   * The answer for one assessment.
   *
   * @param assessment of a run
   */
  public RunVerdictText(Assessment assessment) {
    this.assessment = assessment;
    this.judged =
        assessment.results().stream()
            .filter(r -> r.judgement().isPresent())
            .sorted(LimitMargin.worstFirst())
            .toList();
  }

  /**
   * The answer in one line.
   *
   * @return a line such as {@code SIMULATED unit FX3-00042, run 1: Pass. All 20 limits are met.}
   */
  public String inOneLine() {
    Assessment.PointCounts points = assessment.points();
    RunOrigin origin = assessment.run().start().origin();
    return "%s unit %s, run %s: %s%s%s"
        .formatted(
            origin == RunOrigin.SIMULATED
                ? "SIMULATED"
                : origin == RunOrigin.IMPORTED ? "Imported" : "Bench",
            assessment.run().start().unit(),
            assessment.run().id(),
            OverallVerdict.of(assessment).inOneLine(),
            points.whole() ? "" : " " + points.inWords() + ".",
            points.early().map(e -> " " + e.inWords() + ".").orElse(""));
  }

  /**
   * Results with a limit, the worst first: failed, not evaluated, then by distance over U.
   *
   * @return the results
   */
  public List<Result> judged() {
    return judged;
  }

  /**
   * Results that do not meet their limit, the worst first.
   *
   * @return the results
   */
  public List<Result> unmet() {
    return judged.stream().filter(r -> r.judgement().orElseThrow().failed()).toList();
  }

  /**
   * Results that meet their limit, in rising order of their distance in U; results without U are
   * left out.
   *
   * @return the results
   */
  public List<Result> nearest() {
    return judged.stream()
        .filter(r -> r.judgement().orElseThrow().conformity() == Conformity.PASS)
        .filter(
            r -> r.outcome() instanceof ComputationOutcome.Value && LimitMargin.inU(r).isPresent())
        .sorted(Comparator.comparingDouble(r -> LimitMargin.inU(r).orElseThrow()))
        .toList();
  }
}
