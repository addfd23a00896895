// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.List;
import java.util.Optional;
import millrace.quantity.EnumWord;

/**
 * What a judgement over a box of conditions rests on (methods.md 7.1).
 *
 * @param basis how the judged condition is known
 * @param of the run, batch or design that it leans on; empty where it leans on none
 * @param wanting what would have to be measured before the limit can be judged, each an order in
 *     words such as {@code measure at 50 degC}; empty where nothing is wanting
 */
public record BoxJudgementBasis(Basis basis, Optional<String> of, List<String> wanting) {

  /** The judged condition was measured, and nothing is wanting. */
  public static final BoxJudgementBasis MEASURED =
      new BoxJudgementBasis(Basis.MEASURED, Optional.empty(), List.of());

  /** Copies the list. */
  public BoxJudgementBasis {
    wanting = List.copyOf(wanting);
  }

  /**
   * The same, with what is wanting.
   *
   * @param orders what would have to be measured, in words
   * @return the same basis
   */
  public BoxJudgementBasis wanting(List<String> orders) {
    return new BoxJudgementBasis(basis, of, orders);
  }

  /** How the judged condition is known. */
  public enum Basis implements EnumWord {
    /** It was measured, within half a kelvin. */
    MEASURED("measured"),
    /** It lies between what was measured; the unit's model gives it. */
    PREDICTED("predicted"),
    /** What is assumed of units like it gives more than half of u squared. */
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
