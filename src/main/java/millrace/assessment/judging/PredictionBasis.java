// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.analysis.response.BorrowedCoefficients;
import millrace.analysis.response.ResponsePrediction;
import millrace.evidence.BoxJudgementBasis;

/** The basis of a prediction in the terms of a judgement. */
final class PredictionBasis {
  private PredictionBasis() {}

  static BoxJudgementBasis of(ResponsePrediction.Value value) {
    List<BorrowedCoefficients> leansOn = value.leansOn();
    if (leansOn.isEmpty()) {
      return new BoxJudgementBasis(own(value.basis()), Optional.empty(), List.of());
    }
    String names =
        leansOn.stream().map(BorrowedCoefficients::name).collect(Collectors.joining("; "));
    return new BoxJudgementBasis(kind(leansOn.get(0).kind()), Optional.of(names), List.of());
  }

  private static BoxJudgementBasis.Basis own(ResponsePrediction.Basis basis) {
    return switch (basis) {
      case MEASURED -> BoxJudgementBasis.Basis.MEASURED;
      case PREDICTED -> BoxJudgementBasis.Basis.PREDICTED;
      case BY_ASSUMPTION -> BoxJudgementBasis.Basis.BY_ASSUMPTION;
    };
  }

  private static BoxJudgementBasis.Basis kind(BorrowedCoefficients.Kind kind) {
    return switch (kind) {
      case TYPE_RUN -> BoxJudgementBasis.Basis.TYPE_RUN;
      case BATCH -> BoxJudgementBasis.Basis.BATCH;
      case DESIGN -> BoxJudgementBasis.Basis.DESIGN;
    };
  }

  /** Notes on the prediction. */
  static String note(ResponsePrediction.Value value) {
    return value.leansOn().stream()
        .findFirst()
        .map(f -> "tempco not measured on this unit, taken from " + f.name())
        .orElse(value.text());
  }
}
