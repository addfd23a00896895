// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.analysis.response.Foreign;
import millrace.analysis.response.Prediction;
import millrace.evidence.Covers;

/** What a prediction rests on, as a judgement says it. */
final class Bases {
  private Bases() {}

  static Covers of(Prediction.Value value) {
    List<Foreign> leansOn = value.leansOn();
    if (leansOn.isEmpty()) {
      return new Covers(own(value.basis()), Optional.empty(), List.of());
    }
    String names = leansOn.stream().map(Foreign::name).collect(Collectors.joining("; "));
    return new Covers(kind(leansOn.get(0).kind()), Optional.of(names), List.of());
  }

  private static Covers.Basis own(Prediction.Basis basis) {
    return switch (basis) {
      case MEASURED -> Covers.Basis.MEASURED;
      case PREDICTED -> Covers.Basis.PREDICTED;
      case BY_ASSUMPTION -> Covers.Basis.BY_ASSUMPTION;
    };
  }

  private static Covers.Basis kind(Foreign.Kind kind) {
    return switch (kind) {
      case TYPE_RUN -> Covers.Basis.TYPE_RUN;
      case BATCH -> Covers.Basis.BATCH;
      case DESIGN -> Covers.Basis.DESIGN;
    };
  }

  /** What a reader must know of the prediction. */
  static String note(Prediction.Value value) {
    return value.leansOn().stream()
        .findFirst()
        .map(f -> "tempco not measured on this unit, taken from " + f.name())
        .orElse(value.text());
  }
}
