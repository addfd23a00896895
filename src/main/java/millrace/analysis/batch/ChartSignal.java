// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.IntPredicate;

/**
 * A non-random pattern in a time series about its mean: the Western Electric run rules and the two
 * rules for trends of the NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2 (from memory;
 * methods.md 8). Together they give one false alarm in about 92 values of a stable process (Champ
 * and Woodall, Technometrics 29 (1987) 393, from memory).
 *
 * @param rule which rule
 * @param above true for the upper side or a rise, false for the lower side or a fall; without
 *     meaning for alternating values
 * @param first index of its first value, from 0
 * @param last index of its last value
 */
public record ChartSignal(Rule rule, boolean above, int first, int last) {

  /** The rules. */
  public enum Rule {
    /** One value beyond three standard deviations. */
    BEYOND("beyond 3 sigma", 1),
    /** Two of three beyond two, on one side. */
    TWO_OF_THREE("2 of 3 beyond 2 sigma", 3),
    /** Four of five beyond one, on one side. */
    FOUR_OF_FIVE("4 of 5 beyond 1 sigma", 5),
    /** Eight in a row on one side of the mean. */
    EIGHT("8 on one side of the mean", 8),
    /** Six in a row that rise or fall. */
    TREND("6 rising or falling", 6),
    /** Fourteen in a row that go up and down by turns. */
    ALTERNATING("14 up and down by turns", 14);

    private final String text;
    private final int window;

    Rule(String text, int window) {
      this.text = text;
      this.window = window;
    }

    /**
     * The rule in a few words.
     *
     * @return such as {@code 8 on one side of the mean}
     */
    public String text() {
      return text;
    }
  }

  /**
   * Applies all rules.
   *
   * @param values in the order of time, finite
   * @param centre their mean
   * @param sigma their short-term standard deviation; nothing is found if it is 0
   * @return the signals by their first value; overlapping windows of one rule make one signal
   */
  static List<ChartSignal> in(double[] values, double centre, double sigma) {
    List<ChartSignal> signals = new ArrayList<>();
    if (sigma > 0) {
      for (boolean above : new boolean[] {true, false}) {
        Side side = new Side(values, centre, sigma, above);
        signals.addAll(found(Rule.BEYOND, side, i -> side.beyond(i, 3)));
        signals.addAll(found(Rule.TWO_OF_THREE, side, i -> side.most(i, 3, 2)));
        signals.addAll(found(Rule.FOUR_OF_FIVE, side, i -> side.most(i, 5, 1)));
        signals.addAll(found(Rule.EIGHT, side, i -> side.all(i, 8)));
        signals.addAll(found(Rule.TREND, side, i -> side.steps(i, 6)));
      }
      Side any = new Side(values, centre, sigma, true);
      signals.addAll(found(Rule.ALTERNATING, any, i -> any.turns(i, 14)));
    }
    signals.sort(Comparator.comparingInt(ChartSignal::first).thenComparing(ChartSignal::rule));
    return signals;
  }

  /** The windows that satisfy a rule; overlapping ones are merged. */
  private static List<ChartSignal> found(Rule rule, Side side, IntPredicate ends) {
    List<ChartSignal> signals = new ArrayList<>();
    int from = -1;
    for (int i = rule.window - 1; i <= side.values.length; i++) {
      boolean here = i < side.values.length && ends.test(i);
      if (here && from < 0) {
        from = i - rule.window + 1;
      }
      boolean ended = from >= 0 && (!here || rule == Rule.BEYOND);
      if (ended) {
        int last = here ? i : i - 1;
        signals.add(new ChartSignal(rule, side.above, from, last));
        from = -1;
      }
    }
    return signals;
  }

  /** One side of the mean. */
  private static final class Side {
    private final double[] values;
    private final double centre;
    private final double sigma;
    private final boolean above;

    Side(double[] values, double centre, double sigma, boolean above) {
      this.values = values;
      this.centre = centre;
      this.sigma = sigma;
      this.above = above;
    }

    private double height(int i) {
      return (above ? 1 : -1) * (values[i] - centre) / sigma;
    }

    boolean beyond(int i, double sigmas) {
      return height(i) > sigmas;
    }

    /** All but one of so many beyond so many sigma, the last among them. */
    boolean most(int i, int window, double sigmas) {
      int count = 0;
      for (int k = i - window + 1; k <= i; k++) {
        count += beyond(k, sigmas) ? 1 : 0;
      }
      return count >= window - 1 && beyond(i, sigmas);
    }

    boolean all(int i, int window) {
      for (int k = i - window + 1; k <= i; k++) {
        if (!beyond(k, 0)) {
          return false;
        }
      }
      return true;
    }

    private double step(int k) {
      return height(k) - height(k - 1);
    }

    boolean steps(int i, int window) {
      for (int k = i - window + 2; k <= i; k++) {
        if (!(step(k) > 0)) {
          return false;
        }
      }
      return true;
    }

    boolean turns(int i, int window) {
      for (int k = i - window + 3; k <= i; k++) {
        if (!(step(k) * step(k - 1) < 0)) {
          return false;
        }
      }
      return true;
    }
  }
}
