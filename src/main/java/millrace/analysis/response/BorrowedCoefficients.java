// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.stream.Stream;
import millrace.evidence.BudgetComponent;

/**
 * The source of coefficients that a run did not measure (methods.md 11.6).
 *
 * @param kind the kind of evidence
 * @param name the source in words, such as {@code run 12 of unit BX5-0007}
 */
public record BorrowedCoefficients(Kind kind, String name) {
  /** The group of assumed components without a source. */
  static final String ASSUMPTION = "assumption";

  /** Kinds of evidence from elsewhere. */
  public enum Kind {
    /** The run of a unit that stands for its kind. */
    TYPE_RUN("type run"),
    /** The spread of a batch. */
    BATCH("batch"),
    /** The worst case of the design. */
    DESIGN("design");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    /**
     * The word that pages use.
     *
     * @return the word
     */
    public String text() {
      return text;
    }
  }

  /**
   * Tells whether a component is prior knowledge of the unit. Such an error is the same in all runs
   * of one unit, since the unit's coefficient and the assumption are the same. Drift is excluded:
   * the drifts of two runs are independent.
   *
   * @param of a component of a result
   * @return true if two runs of one unit share it
   */
  public static boolean staysWithTheUnit(BudgetComponent of) {
    boolean beforehand =
        of.group().equals(ASSUMPTION)
            || Stream.of(Kind.values()).anyMatch(k -> of.group().startsWith(k.text() + " "));
    return beforehand && !of.component().endsWith(ResponseCoefficient.E.inWords());
  }

  /**
   * The whole in words.
   *
   * @return such as {@code type run 12}
   */
  public String inWords() {
    return kind.text() + " " + name;
  }
}
