// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.BatchOrderTrend;
import millrace.analysis.batch.GaugeIntervals;
import millrace.analysis.batch.GaugeStudy;
import millrace.analysis.batch.TwoBatches;
import millrace.analysis.batch.UnitDrift;
import millrace.analysis.batch.Yield;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;

/**
 * Runs against their limits and against one another.
 *
 * @param simulated true if every unit is simulated; real and simulated ones are never together
 * @param runs in the order of time
 * @param yields by batch; under the empty name that of all together
 * @param distributions one per quantity, range and conditions
 * @param drifts how units moved from their first run to their last
 * @param contrasts each group of each factor against all other runs together
 * @param trends how what is limited drifts in the order of time, over all runs and within groups
 * @param gauges gauge studies, where the runs are such
 * @param setUps reproducibility of set-ups, where runs measured it
 * @param causes likeliest causes of the failed units, the most frequent first; empty unless asked
 *     for
 * @param coverage probability of all intervals
 * @param notes what a reader must know, above all which runs were left out
 */
public record Comparison(
    boolean simulated,
    List<ComparedRun> runs,
    Map<String, Yield> yields,
    List<BatchDistribution> distributions,
    List<Drift> drifts,
    List<Contrast> contrasts,
    List<Drifting> trends,
    List<Gauge> gauges,
    List<SetUpStudy> setUps,
    List<CauseCount> causes,
    double coverage,
    List<String> notes) {
  /** The name of all batches together. */
  public static final String ALL = "";

  /** Copies the collections. */
  public Comparison {
    runs = List.copyOf(runs);
    yields = Collections.unmodifiableMap(new TreeMap<>(yields));
    distributions = List.copyOf(distributions);
    drifts = List.copyOf(drifts);
    contrasts = List.copyOf(contrasts);
    trends = List.copyOf(trends);
    gauges = List.copyOf(gauges);
    setUps = List.copyOf(setUps);
    causes = List.copyOf(causes);
    notes = List.copyOf(notes);
  }

  /**
   * What runs are grouped by.
   *
   * @return those of the logbook first, then those of somebody's own table; empty without runs
   */
  public List<ComparisonFactor> factors() {
    return runs.stream().findFirst().map(r -> List.copyOf(r.groups().keySet())).orElse(List.of());
  }

  /**
   * How one unit moved.
   *
   * @param earlier its first run here
   * @param later its last run here
   * @param what the quantity
   * @param change later less earlier
   */
  public record Drift(ComparedRun earlier, ComparedRun later, Measurand what, UnitDrift change) {}

  /**
   * Runs that have something in common.
   *
   * @param factor what
   * @param name which one, such as the name of a batch; empty where nobody said
   */
  public record Group(ComparisonFactor factor, String name) {}

  /**
   * One group against all other runs together.
   *
   * @param group which one
   * @param what the quantity
   * @param comparison the group less the others
   * @param inOneStretch true if its runs came one behind the other, so that a drift in time looks
   *     like a difference of groups
   */
  public record Contrast(
      Group group, Measurand what, TwoBatches comparison, boolean inOneStretch) {}

  /**
   * How a quantity moves from unit to unit, in the order of time.
   *
   * @param what the quantity
   * @param group within which runs; empty for all
   * @param trend from the first of them to the last
   * @param first the first run
   * @param last the last run
   */
  public record Drifting(
      Measurand what,
      Optional<Group> group,
      BatchOrderTrend trend,
      ComparedRun first,
      ComparedRun last) {}

  /**
   * A crossed gauge study of one quantity.
   *
   * @param what the quantity
   * @param study the study
   * @param limit the limit that it is held against; empty if there is none
   * @param across what was crossed with the units: operators or benches
   * @param intervals how well its components are known; empty where it tells nothing
   */
  public record Gauge(
      Measurand what,
      GaugeStudy study,
      Optional<Limit> limit,
      ComparisonFactor across,
      Optional<GaugeIntervals> intervals) {}

  /**
   * What plugging in and out does to one range at one load (methods.md 2.6).
   *
   * @param run the run
   * @param range the range
   * @param nominalA nominal current of the range, A
   * @param loadOhm the load, ohm
   * @param connectionsPpm of the means of each connection, ppm of the nominal current
   * @param noisePpm standard uncertainty of one such mean by its own scatter, ppm
   */
  public record SetUpStudy(
      long run,
      String range,
      double nominalA,
      double loadOhm,
      BatchMeanAndSpread connectionsPpm,
      double noisePpm) {
    /**
     * What one connection does beyond the noise of a mean, which every result carries anyway
     * (methods.md 2.6): u^2 = s^2 - u_noise^2.
     *
     * @return ppm, 0 or more
     */
    public double ownPpm() {
      double s = connectionsPpm.sd();
      return Math.sqrt(Math.max(0, s * s - noisePpm * noisePpm));
    }
  }

  /**
   * Failed units that have the same likeliest cause.
   *
   * @param cause what it is and of which part, such as {@code range resistor R2}
   * @param part the part; empty where the cause has none
   * @param boards their first tests, in the order of time
   */
  public record CauseCount(String cause, Optional<String> part, List<Blamed> boards) {
    /** Copies the list. */
    public CauseCount {
      boards = List.copyOf(boards);
    }

    /**
     * How many units.
     *
     * @return 1 or more
     */
    public int units() {
      return boards.size();
    }

    /**
     * The first tests of the units.
     *
     * @return local numbers, in the order of time
     */
    public List<Long> runs() {
      return boards.stream().map(b -> b.test().run().id()).toList();
    }
  }

  /**
   * A unit that failed, and where its error comes from.
   *
   * @param test its first test
   * @param diagnosis every cause with its probability; empty where the datasheet names no parts
   */
  public record Blamed(ComparedRun test, Optional<ErrorCauseDiagnosis> diagnosis) {
    /**
     * The likeliest cause.
     *
     * @return empty where none can be told
     */
    public Optional<Cause> cause() {
      return diagnosis.flatMap(d -> d.causes().stream().findFirst());
    }
  }

  /**
   * The same with causes.
   *
   * @param counted the most frequent first
   * @return a comparison that carries them
   */
  public Comparison with(List<CauseCount> counted) {
    return new Comparison(
        simulated,
        runs,
        yields,
        distributions,
        drifts,
        contrasts,
        trends,
        gauges,
        setUps,
        counted,
        coverage,
        notes);
  }

  /**
   * Tells whether a group differs from the other runs, by a risk that is shared among all contrasts
   * (Bonferroni): chance alone gives none in as many comparisons as the coverage says.
   *
   * @param contrast one of the contrasts
   * @return true if it differs
   */
  public boolean differs(Contrast contrast) {
    return contrast.comparison().probability() < (1 - coverage) / contrasts.size();
  }

  /**
   * Tells whether a quantity drifts, by a risk that is shared among all trends (Bonferroni).
   *
   * @param trend one of the trends
   * @return true if it drifts
   */
  public boolean drifts(Drifting trend) {
    return trend.trend().probability() < (1 - coverage) / trends.size();
  }

  /**
   * How many units the passing first tests put in each bin.
   *
   * @return by bin
   */
  public Map<String, Long> bins() {
    Map<String, Long> bins = new TreeMap<>();
    runs.stream()
        .filter(ComparedRun::first)
        .flatMap(r -> r.bin().stream())
        .forEach(b -> bins.merge(b, 1L, Long::sum));
    return bins;
  }
}
