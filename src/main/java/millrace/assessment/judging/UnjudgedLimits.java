// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.List;
import java.util.Optional;
import millrace.analysis.conformity.Judge;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.datasheet.Datasheet;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;

/** Limits that cannot be judged, with the reason. */
final class UnjudgedLimits {
  private UnjudgedLimits() {}

  /** No result answers the limit: the reason is taken from a missing result if there is one. */
  static Result unanswered(RangeLimit promise, Datasheet sheet, List<Result> answers) {
    List<String> reasons =
        answers.stream()
            .map(Result::outcome)
            .filter(ComputationOutcome.Missing.class::isInstance)
            .map(o -> ((ComputationOutcome.Missing) o).reason())
            .distinct()
            .toList();
    String why =
        reasons.isEmpty()
            ? "the run has no measurement that tells it under these conditions"
            : String.join("; ", reasons);
    return missing(promise, sheet, why, List.of(), 0);
  }

  /** Points left out that need no measurement. */
  static Result missing(RangeLimit promise, Datasheet sheet, String why) {
    return missing(promise, sheet, why, List.of(), 0);
  }

  static Result missing(RangeLimit promise, Datasheet sheet, List<String> wanting, int n) {
    return missing(promise, sheet, String.join("; ", wanting), wanting, n);
  }

  private static Result missing(
      RangeLimit promise, Datasheet sheet, String why, List<String> wanting, int n) {
    ComputationOutcome none = new ComputationOutcome.Missing(why, n);
    Result open =
        ResultBuilder.result(
            new ResultBuilder.Subject(
                promise.stated().quantity(),
                Optional.of(promise.range().name()),
                ResultConditions.NONE,
                Optional.empty(),
                "none, Methods of Millrace 7.1",
                sheet.coverage()),
            none,
            List.of(),
            List.of());
    Limit limit = promise.limit();
    return open.with(
        Judge.of(none, limit, sheet.decision())
            .over(
                promise.box(),
                new BoxJudgementBasis(
                    BoxJudgementBasis.Basis.MEASURED, Optional.empty(), wanting)));
  }
}
