// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.List;
import java.util.Optional;
import millrace.quantity.EnumWord;

/**
 * The basis of a judgement over a box of conditions (methods.md 7.1).
 *
 * @param basis the basis of the judged condition
 * @param of the run, batch or design that supplies coefficients; empty without one
 * @param wanting the measurements missing for the judgement, each an instruction in words such as
 *     {@code measure at 50 degC}; empty if none is missing
 */
public record BoxJudgementBasis(Basis basis, Optional<String> of, List<String> wanting) {

  /** The judged condition was measured, and nothing is missing. */
  public static final BoxJudgementBasis MEASURED =
      new BoxJudgementBasis(Basis.MEASURED, Optional.empty(), List.of());

  /** Copies the list. */
  public BoxJudgementBasis {
    wanting = List.copyOf(wanting);
  }

  /**
   * The same with missing measurements.
   *
   * @param orders the measurements, in words
   * @return the same basis
   */
  public BoxJudgementBasis wanting(List<String> orders) {
    return new BoxJudgementBasis(basis, of, orders);
  }

  /** The basis of the judged condition. */
  public enum Basis implements EnumWord {
    /** It was measured, within half a kelvin. */
    MEASURED("measured"),
    /** It lies between what was measured; the unit's model gives it. */
    PREDICTED("predicted"),
    /** Assumptions on similar units give more than half of u squared. */
    BY_ASSUMPTION("by assumption"),
    /** Coefficients that were not measured on this unit come from a run of its type. */
    TYPE_RUN("type run"),
    /** Coefficients that were not measured on this unit come from the spread of its batch. */
    BATCH("batch"),
    /** Coefficients that were not measured on this unit come from the design's worst case. */
    DESIGN("design");

    private final String text;

    Basis(String text) {
      this.text = text;
    }

    @Override
    public String text() {
      return text;
    }
  }
}
