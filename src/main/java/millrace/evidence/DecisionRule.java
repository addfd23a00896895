// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/**
 * The rule that judges a result near its limit (ILAC-G8:09/2019; methods.md 7.2).
 *
 * @param kind the rule
 * @param guardFactor r: the guard band is r times the expanded uncertainty; 0 or more, 0 for simple
 */
public record DecisionRule(Kind kind, double guardFactor) {

  /** The rules to choose from. */
  public enum Kind implements EnumWord {
    /** The value alone decides. */
    SIMPLE("simple"),
    /** Pass only inside the guard band, else fail. */
    GUARDED("guarded"),
    /** Pass, conditional pass, conditional fail, fail. */
    GUARDED_FOUR_OUTCOMES("guarded four outcomes");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    @Override
    public String text() {
      return text;
    }
  }

  /** Simple acceptance: no guard band. */
  public static final DecisionRule SIMPLE = new DecisionRule(Kind.SIMPLE, 0);

  /** Checks the guard factor. */
  public DecisionRule {
    if (!(guardFactor >= 0) || Double.isInfinite(guardFactor)) {
      throw new IllegalArgumentException(
          "guard factor r is " + guardFactor + ", must be 0 or more and finite");
    }
  }

  /**
   * Largest allowed risks of a wrong decision on a unit (JCGM 106:2012, 9.5; methods.md 12).
   *
   * @param consumer that a unit outside a limit is accepted, above 0 and below 0.5
   * @param producer that a unit inside every limit is rejected, above 0 and below 0.5
   */
  public record Risks(double consumer, double producer) {
    /** Checks both. */
    public Risks {
      if (!isOne(consumer) || !isOne(producer)) {
        throw new IllegalArgumentException(
            "risks %s and %s; expected both above 0 and below 0.5".formatted(consumer, producer));
      }
    }

    /**
     * Tells whether a number is a valid risk.
     *
     * @param risk a ratio
     * @return true above 0 and below 0.5
     */
    public static boolean isOne(double risk) {
      return risk > 0 && risk < 0.5;
    }
  }
}
