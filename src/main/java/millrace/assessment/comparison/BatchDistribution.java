// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.Capability;
import millrace.analysis.batch.IndividualsChart;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.ProportionInterval;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.evidence.Result;

/**
 * One quantity of one range over all runs (methods.md 8). Spread, capability, outliers and chart
 * use the values that count: the first of each unit, or all values of a single unit.
 *
 * @param what quantity, range and nominal conditions
 * @param entries one per run with this quantity, in the order of time
 * @param counting the entries whose values enter the statistics, in the order of time
 * @param limit the datasheet's limit; empty if there is none or runs were judged by different
 *     limits
 * @param testLimit the limit less its guard band, with the largest U among the entries; empty if
 *     the rule has no guard band or the guard band leaves nothing
 * @param statistics of the values that count; empty if no value counts
 * @param notes notes for the reader
 */
public record BatchDistribution(
    Measurand what,
    List<Entry> entries,
    List<Entry> counting,
    Optional<Limit> limit,
    Optional<Limit> testLimit,
    Optional<Statistics> statistics,
    List<String> notes) {
  /** Copies the lists. */
  public BatchDistribution {
    entries = List.copyOf(entries);
    counting = List.copyOf(counting);
    notes = List.copyOf(notes);
  }

  /**
   * The result of one run.
   *
   * @param run the run
   * @param result its result
   * @param value the value; empty for a bound or a result not computed
   * @param counts true if it enters the statistics
   */
  public record Entry(ComparedRun run, Result result, OptionalDouble value, boolean counts) {}

  /**
   * Statistics of the values that count, in the unit of the quantity.
   *
   * @param spread mean and scatter
   * @param tolerance the interval that holds 95 % of all units with 95 % confidence, for a normal
   *     distribution; empty with fewer than 3 values or if all are equal
   * @param capability process capability against the limit; empty without a limit, with one unit
   *     only, or with too few values
   * @param within share of the results of units that meet their limit; empty without a limit
   * @param chart of individuals and moving ranges in the order of time; empty with fewer than 2
   * @param outliers runs with outlying values; all other figures include them
   */
  public record Statistics(
      BatchMeanAndSpread spread,
      Optional<Interval> tolerance,
      Optional<Capability> capability,
      Optional<ProportionInterval> within,
      Optional<IndividualsChart> chart,
      List<Long> outliers) {
    /** Copies the list. */
    public Statistics {
      outliers = List.copyOf(outliers);
    }
  }

  /**
   * Tells whether the quantity is judged against limits, common to all runs or not.
   *
   * @return true if a limit was judged
   */
  public boolean judged() {
    return entries.stream().anyMatch(e -> e.result().judgement().isPresent());
  }
}
