// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.ageing;

import java.util.OptionalDouble;
import java.util.OptionalInt;
import millrace.analysis.conformity.StandardizedError;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.Limit;

/**
 * When a unit that drifts along a line leaves a limit, and with what probability (methods.md 13.2):
 * on day t its largest current within the limit's conditions is the line plus what these conditions
 * add, y(t) + d; P(outside) = P(y + d_upper &gt; upper) + P(y + d_lower &lt; lower), each by the
 * normal or Student's distribution with u^2 = u^2(y(t)) + u^2(d) (JCGM 106:2012, 7).
 *
 * <p>Immutable and thread-safe.
 *
 * @param line the drift
 * @param limit the limit, in the unit of the line
 * @param toLower what the condition nearest to the lower limit adds to the line
 * @param toUpper what the condition nearest to the upper limit adds to the line
 */
public record LimitForecast(DriftLine line, Limit limit, Estimate toLower, Estimate toUpper) {
  /**
   * The least probability, on a day for the next visit, that the unit is within its limits: the
   * reliability at the end of the interval (common practice, no source).
   */
  public static final double RELIABILITY = 0.95;

  /** Farther ahead nothing is looked for, days. */
  private static final int FARTHEST = 36525;

  /**
   * The probability that the unit is within the limit on a day.
   *
   * @param day days from the same day as those of the line
   * @return 0 to 1
   */
  public double within(double day) {
    Estimate there = line.at(day);
    return Math.max(0, 1 - aboveUpper(there) - belowLower(there));
  }

  private double aboveUpper(Estimate there) {
    return limit.upper().isEmpty()
        ? 0
        : beyond(there.value() + toUpper.value() - limit.upper().getAsDouble(), there, toUpper);
  }

  private double belowLower(Estimate there) {
    return limit.lower().isEmpty()
        ? 0
        : beyond(limit.lower().getAsDouble() - there.value() - toLower.value(), there, toLower);
  }

  private static double beyond(double by, Estimate there, Estimate added) {
    double u = Math.hypot(there.standardUncertainty(), added.standardUncertainty());
    if (u == 0) {
      return by > 0 ? 1 : 0;
    }
    return StandardizedError.below(by / u, Budget.of(there).degreesOfFreedom());
  }

  /**
   * Which side the line runs to, by the sign of the drift.
   *
   * @return the limit on that side; empty if there is none
   */
  public OptionalDouble ahead() {
    return line.slopePerDay().value() > 0 ? limit.upper() : limit.lower();
  }

  /**
   * The day on which the line itself reaches the limit ahead: from then on the unit is more likely
   * outside than not.
   *
   * @param from a day; earlier ones do not count
   * @return the day; {@code from} where it is beyond already; empty if it runs to no limit within a
   *     hundred years
   */
  public OptionalDouble leaves(double from) {
    double slope = line.slopePerDay().value();
    if (ahead().isEmpty() || slope == 0) {
      return OptionalDouble.empty();
    }
    double added = slope > 0 ? toUpper.value() : toLower.value();
    double day = from + (ahead().getAsDouble() - added - line.at(from).value()) / slope;
    return day - from > FARTHEST ? OptionalDouble.empty() : OptionalDouble.of(Math.max(from, day));
  }

  /**
   * The last day up to which the unit stays within the limit with the probability {@link
   * #RELIABILITY}, day by day.
   *
   * @param from the first day that counts
   * @param to the last day that counts, not before {@code from}
   * @return days from {@code from}, at most to - from; empty if it is less sure on the first day
   */
  public OptionalInt sureFor(double from, double to) {
    int days = (int) Math.min(FARTHEST, Math.floor(to - from));
    int sure = -1;
    while (sure < days && within(from + sure + 1) >= RELIABILITY) {
      sure++;
    }
    return sure < 0 ? OptionalInt.empty() : OptionalInt.of(sure);
  }
}
