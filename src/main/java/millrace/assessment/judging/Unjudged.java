// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.List;
import java.util.Optional;
import millrace.analysis.conformity.Judge;
import millrace.analysis.uncertainty.Results;
import millrace.datasheet.Datasheet;
import millrace.evidence.At;
import millrace.evidence.Covers;
import millrace.evidence.Limit;
import millrace.evidence.Outcome;
import millrace.evidence.Result;

/** Limits that cannot be answered, and why. */
final class Unjudged {
  private Unjudged() {}

  /** No result answers the limit: it says why not, as far as one tells. */
  static Result unanswered(Promise promise, Datasheet sheet, List<Result> answers) {
    List<String> reasons =
        answers.stream()
            .map(Result::outcome)
            .filter(Outcome.Missing.class::isInstance)
            .map(o -> ((Outcome.Missing) o).reason())
            .distinct()
            .toList();
    String why =
        reasons.isEmpty()
            ? "the run has no measurement that tells it under these conditions"
            : String.join("; ", reasons);
    return missing(promise, sheet, why, List.of(), 0);
  }

  static Result missing(Promise promise, Datasheet sheet, List<String> wanting, int n) {
    return missing(promise, sheet, String.join("; ", wanting), wanting, n);
  }

  private static Result missing(
      Promise promise, Datasheet sheet, String why, List<String> wanting, int n) {
    Outcome none = new Outcome.Missing(why, n);
    Result open =
        Results.result(
            new Results.Subject(
                promise.stated().quantity(),
                Optional.of(promise.range().name()),
                At.NONE,
                Optional.empty(),
                "none, Methods of Millrace 7.1",
                sheet.coverage()),
            none,
            List.of(),
            List.of());
    Limit limit = promise.limit();
    return open.with(
        Judge.of(none, limit, sheet.decision())
            .over(promise.box(), new Covers(Covers.Basis.MEASURED, Optional.empty(), wanting)));
  }
}
