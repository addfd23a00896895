// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Optional;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * How readings are taken and what happens if that fails.
 *
 * @param readings how many, how long
 * @param settle when the first is taken after a change
 * @param onFailure what happens when a point cannot be taken
 */
public record MeasuringRules(ReadingRule readings, SettleRule settle, OnFailure onFailure) {
  /** 10 readings of 10 line cycles, 1 s of settling, go on flagged. */
  public static final MeasuringRules DEFAULT =
      new MeasuringRules(ReadingRule.DEFAULT, SettleRule.DEFAULT, OnFailure.GO_ON_FLAGGED);

  /**
   * How many readings a point has.
   *
   * @param count the number, or the least number if an uncertainty is asked for; 1 or more
   * @param lineCycles integration time of each, above 0
   * @param untilRatio goes on until the standard uncertainty of the mean is below this ratio of the
   *     nominal current; empty for a fixed number
   * @param most the most readings then taken, not below count
   * @param voltages at how many of them the voltage is read too, the first ones; 1 or more
   * @param reversal true if as many are taken with the unit's leads exchanged (methods.md 1.4)
   */
  public record ReadingRule(
      int count,
      double lineCycles,
      Optional<Double> untilRatio,
      int most,
      int voltages,
      boolean reversal) {
    /** The voltage is read beside every reading of the current. */
    public static final int EVERY = Integer.MAX_VALUE;

    /** 10 readings of 10 line cycles. */
    public static final ReadingRule DEFAULT =
        new ReadingRule(10, 10, Optional.empty(), 10, EVERY, false);

    /**
     * A share of the readings, the leads left as they are.
     *
     * @param number how many, 1 or more
     * @return the rule for them
     */
    public ReadingRule only(int number) {
      return new ReadingRule(
          number, lineCycles, untilRatio, Math.max(number, most / 2), voltages, false);
    }

    /** Checks the ranges. */
    public ReadingRule {
      if (count < 1 || most < count) {
        throw new IllegalArgumentException(
            "%s readings, at most %s; expected 1 or more, and no fewer at most"
                .formatted(count, most));
      }
      if (voltages < 1) {
        throw new IllegalArgumentException(
            voltages + " readings of the voltage; expected 1 or more");
      }
      if (!(lineCycles > 0)) {
        throw new IllegalArgumentException(lineCycles + " line cycles; expected above 0");
      }
    }
  }

  /**
   * When the first reading is taken after a change of load or range.
   *
   * @param waitS a fixed wait, s, 0 or more
   * @param withinRatio beyond that, until successive readings agree within this ratio of the
   *     nominal current; empty for the fixed wait alone
   * @param atMostS the longest wait for that, s
   */
  public record SettleRule(double waitS, Optional<Double> withinRatio, double atMostS) {
    /** The step that counts as none, as a share of the band within which readings agree. */
    public static final double CREEP = 0.1;

    /** The step of a zero that counts as none, as a share of the nominal current. */
    public static final double NO_STEP_OF_ZERO = 1e-7;

    /** 1 s. */
    public static final SettleRule DEFAULT = new SettleRule(1, Optional.empty(), 60);

    /** Checks the ranges. */
    public SettleRule {
      if (!(waitS >= 0) || !(atMostS >= 0) || withinRatio.filter(r -> !(r > 0)).isPresent()) {
        throw new IllegalArgumentException(
            "settling %s s, within %s, at most %s s; expected times of 0 or more, a ratio above 0"
                .formatted(waitS, withinRatio, atMostS));
      }
    }
  }

  /**
   * When a unit counts as being at temperature (methods.md 6.1).
   *
   * @param withinRatio what may be left of the change of the current, a ratio
   * @param leastS the shortest soak, s
   * @param mostS the bound, s
   * @param whenBoundHit what happens if it is not over by then
   * @param everyS how often it is looked at, s
   * @param bandK how far the unit's temperature may be from where it comes to rest, K
   */
  public record SoakRule(
      double withinRatio,
      double leastS,
      double mostS,
      OnFailure whenBoundHit,
      double everyS,
      double bandK) {
    /** 2 ppm, 1 K, from 10 min to 3 h, go on flagged, every 15 s. */
    public static final SoakRule DEFAULT =
        new SoakRule(2e-6, 600, 10_800, OnFailure.GO_ON_FLAGGED, 15, 1);

    /** Checks the order. */
    public SoakRule {
      if (!(withinRatio > 0) || !(leastS >= 0) || !(everyS > 0) || !(bandK > 0)) {
        throw new IllegalArgumentException(
            "a soak within %s and %s K, at least %s s, looked at every %s s; expected above 0"
                .formatted(withinRatio, bandK, leastS, everyS));
      }
      if (!(mostS >= leastS)) {
        throw new IllegalArgumentException(
            "a soak of at least %s and at most %s; expected the first not above the second"
                .formatted(
                    QuantityText.print(leastS, Dimension.TIME),
                    QuantityText.print(mostS, Dimension.TIME)));
      }
    }
  }

  /** What happens when something cannot be done. */
  public enum OnFailure {
    /** The run ends. */
    STOP("stop"),
    /** What is left of the innermost sweep is left out. */
    SKIP("skip"),
    /** The point is flagged and the run goes on. */
    GO_ON_FLAGGED("go on flagged");

    private final String text;

    OnFailure(String text) {
      this.text = text;
    }

    /**
     * The words in the file.
     *
     * @return for example {@code go on flagged}
     */
    public String text() {
      return text;
    }
  }
}
