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
 * are those of the values that count: the first of each unit, or all of them where there is one
 * unit only.
 *
 * @param what quantity, range and nominal conditions
 * @param entries one per run that tells it, in the order of time
 * @param limit the datasheet's limit; empty where there is none, or runs were judged by different
 *     ones
 * @param testLimit the limit less its guard band, with the largest U among the entries; empty where
 *     the rule has no guard band or it leaves nothing
 * @param statistics of the values that count; empty where there is none
 * @param notes what a reader must know
 */
public record BatchDistribution(
    Measurand what,
    List<Entry> entries,
    Optional<Limit> limit,
    Optional<Limit> testLimit,
    Optional<Statistics> statistics,
    List<String> notes) {
  /** Copies the lists. */
  public BatchDistribution {
    entries = List.copyOf(entries);
    notes = List.copyOf(notes);
  }

  /**
   * What one run tells.
   *
   * @param run the run
   * @param result its result
   * @param value the value; empty for a bound or what was not computed
   * @param counts true if it enters the statistics
   */
  public record Entry(ComparedRun run, Result result, OptionalDouble value, boolean counts) {}

  /**
   * What the values that count come to, in the unit of the quantity.
   *
   * @param spread mean and scatter
   * @param tolerance between what values 95 % of all units lie, with 95 % confidence, if they are
   *     normal; empty with fewer than 3 values or where all are alike
   * @param capability against the limit; empty without one, with one unit only, or fewer values
   *     than tell one
   * @param within share of the results of units that meet their limit; empty without a limit
   * @param chart of individuals and moving ranges in the order of time; empty with fewer than 2
   * @param outliers runs whose values lie apart from the others; they are in all other figures
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
   * The entries whose values enter the statistics.
   *
   * @return in the order of time
   */
  public List<Entry> counting() {
    return entries.stream().filter(e -> e.counts() && e.value().isPresent()).toList();
  }

  /**
   * Tells whether it is held against limits, be they the same for all or not.
   *
   * @return true if a limit was judged
   */
  public boolean judged() {
    return entries.stream().anyMatch(e -> e.result().judgement().isPresent());
  }
}
