// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.stream.Stream;
import millrace.evidence.BudgetComponent;

/**
 * Where coefficients come from that a run did not measure (methods.md 11.6).
 *
 * @param kind which kind of evidence
 * @param name in words, such as {@code run 12 of unit BX5-0007}
 */
public record BorrowedCoefficients(Kind kind, String name) {
  /** The group of what comes from nowhere: it is assumed. */
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
   * Whether a component is what a unit may be beforehand: the same error in all runs of one unit,
   * since the unit's coefficient and what was assumed of it are the same. Its drift is not: that of
   * one run says nothing of the next.
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
