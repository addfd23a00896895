// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.ageing.DriftLine;
import millrace.analysis.ageing.LimitForecast;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Limit;
import millrace.evidence.ResultConditions;

/**
 * The current error of one range over the visits of a unit, at one and the same condition.
 *
 * @param range the range
 * @param at the condition: that of the last visit, at T_ref
 * @param visits every visit that stated it, in the order of time
 * @param drift the drift over the visits that count; empty if they tell nothing yet
 * @param noDrift why there is no drift; empty if there is one
 * @param forecasts one per limit on the current of the range; empty if nothing can be said
 * @param noForecast why there is none; empty if there is one
 */
public record RangeHistory(
    String range,
    ResultConditions at,
    List<Visit> visits,
    Optional<Drift> drift,
    Optional<String> noDrift,
    List<Forecast> forecasts,
    Optional<String> noForecast) {
  /** Copies the lists. */
  public RangeHistory {
    visits = List.copyOf(visits);
    forecasts = List.copyOf(forecasts);
  }

  /**
   * The current error at one visit.
   *
   * @param run the run
   * @param day when it was measured, days since 1970-01-01 UTC
   * @param errorPpm current error, ppm of I_N
   * @param uncertainty its uncertainty; empty if not known
   * @param apart why it does not count for the drift; empty if it counts
   */
  public record Visit(
      UnitRun run,
      double day,
      double errorPpm,
      Optional<ComputationOutcome.Uncertainty> uncertainty,
      Optional<String> apart) {
    /**
     * Tells whether it counts for the drift.
     *
     * @return true if it does
     */
    public boolean counts() {
      return apart.isEmpty();
    }
  }

  /**
   * The long-term drift.
   *
   * @param line the line through the visits, ppm over days since 1970-01-01 UTC
   * @param ppmPerYear drift, ppm of I_N per year of 365.25 days
   * @param uncertainty of the drift, ppm per year
   * @param visits how many visits it rests on
   * @param sameInstruments true if all of them used the same instruments with the same
   *     certificates, so that their common errors cancel
   */
  public record Drift(
      DriftLine line,
      double ppmPerYear,
      ComputationOutcome.Uncertainty uncertainty,
      int visits,
      boolean sameInstruments) {
    /**
     * Tells whether there is a drift.
     *
     * @return true if zero lies outside its interval
     */
    public boolean significant() {
      return uncertainty.lower() > 0 || uncertainty.upper() < 0;
    }

    /**
     * The line on a day.
     *
     * @param day days since 1970-01-01 UTC
     * @return ppm of I_N
     */
    public double at(double day) {
      return line.at(day).value();
    }
  }

  /**
   * When the range leaves a limit.
   *
   * @param limit the limit, ppm of I_N
   * @param when the conditions that it holds for
   * @param computed the probabilities, over days since 1970-01-01 UTC
   * @param side the limit that the drift runs to, ppm; empty if there is none ahead
   * @param leaves the day on which the line reaches it; empty if the drift is not significant or
   *     reaches none within a hundred years
   * @param reach the last day that the visits reach: as far ahead as they lie apart
   * @param sureUntil the last day, at most {@code reach}, up to which it is within the limit with a
   *     probability of 95 %; empty if that is no longer so on the day of the last visit
   * @param proviso what the forecast leaves out, in words; empty if nothing
   */
  public record Forecast(
      Limit limit,
      ConditionBox when,
      LimitForecast computed,
      OptionalDouble side,
      Optional<LocalDate> leaves,
      LocalDate reach,
      Optional<LocalDate> sureUntil,
      Optional<String> proviso) {
    /**
     * The probability that the range is within the limit on a day.
     *
     * @param day the day
     * @return 0 to 1
     */
    public double within(LocalDate day) {
      return computed.within((double) day.toEpochDay());
    }
  }

  /**
   * The visits that count for the drift.
   *
   * @return in the order of time
   */
  public List<Visit> counting() {
    return visits.stream().filter(Visit::counts).toList();
  }

  /**
   * The last visit.
   *
   * @return it
   */
  public Visit last() {
    return visits.get(visits.size() - 1);
  }
}
