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
 * Comparison of runs with their limits and with one another.
 *
 * @param simulated true if every unit is simulated; real and simulated units are never mixed
 * @param runs in the order of time
 * @param yields by batch; the empty name holds the yield of all batches together
 * @param distributions one per quantity, range and conditions
 * @param drifts drift of units from their first run to their last
 * @param contrasts each group of each factor against all other runs together
 * @param trends drift of limited quantities in the order of time, over all runs and within groups
 * @param gauges gauge studies, if the runs include them
 * @param setUps reproducibility of set-ups, if runs measured it
 * @param causes likeliest causes of the failed units, the most frequent first; empty unless asked
 *     for
 * @param coverage probability of all intervals
 * @param notes notes for the reader, first of all the runs left out
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
   * The factors that group runs.
   *
   * @return factors of the logbook first, then those of the user's own table; empty without runs
   */
  public List<ComparisonFactor> factors() {
    return runs.stream().findFirst().map(r -> List.copyOf(r.groups().keySet())).orElse(List.of());
  }

  /**
   * The drift of one unit.
   *
   * @param earlier its first run here
   * @param later its last run here
   * @param what the quantity
   * @param change later less earlier
   */
  public record Drift(ComparedRun earlier, ComparedRun later, Measurand what, UnitDrift change) {}

  /**
   * A group of runs.
   *
   * @param factor the factor they share
   * @param name the value of the factor, such as the name of a batch; empty if nothing was stated
   */
  public record Group(ComparisonFactor factor, String name) {}

  /**
   * One group against all other runs together.
   *
   * @param group the group
   * @param what the quantity
   * @param comparison the group less the others
   * @param inOneStretch true if its runs are consecutive in time, so that a drift is confounded
   *     with a difference of groups
   */
  public record Contrast(
      Group group, Measurand what, TwoBatches comparison, boolean inOneStretch) {}

  /**
   * The trend of a quantity from unit to unit in the order of time.
   *
   * @param what the quantity
   * @param group the runs; empty for all
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
   * @param limit the limit of the quantity; empty if there is none
   * @param across the factor crossed with the units: operators or benches
   * @param intervals confidence intervals of its components; empty if the study gives none
   */
  public record Gauge(
      Measurand what,
      GaugeStudy study,
      Optional<Limit> limit,
      ComparisonFactor across,
      Optional<GaugeIntervals> intervals) {}

  /**
   * The scatter between connections of one range at one load (methods.md 2.6).
   *
   * @param run the run
   * @param range the range
   * @param nominalA nominal current of the range, A
   * @param loadOhm the load, ohm
   * @param connectionsPpm scatter of the means of each connection, ppm of the nominal current
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
     * Scatter of a connection beyond the noise of a mean, which every result includes already
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
   * @param cause the cause and its part, such as {@code range resistor R2}
   * @param part the part; empty where the cause has none
   * @param boards their first tests, in the order of time
   */
  public record CauseCount(String cause, Optional<String> part, List<Blamed> boards) {
    /** Copies the list. */
    public CauseCount {
      boards = List.copyOf(boards);
    }

    /** The number of units. @return 1 or more */
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
   * A failed unit and the causes of its error.
   *
   * @param test its first test
   * @param diagnosis every cause with its probability; empty if the datasheet names no parts
   */
  public record Blamed(ComparedRun test, Optional<ErrorCauseDiagnosis> diagnosis) {
    /**
     * The likeliest cause.
     *
     * @return the cause; empty if none can be determined
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
   * Tells whether a group differs significantly from the other runs. The risk is divided among all
   * contrasts (Bonferroni), so that the probability of no false difference in a comparison is the
   * coverage.
   *
   * @param contrast one of the contrasts
   * @return true if it differs
   */
  public boolean differs(Contrast contrast) {
    return contrast.comparison().probability() < (1 - coverage) / contrasts.size();
  }

  /**
   * Tells whether a quantity drifts significantly, with the risk divided among all trends
   * (Bonferroni).
   *
   * @param trend one of the trends
   * @return true if it drifts
   */
  public boolean drifts(Drifting trend) {
    return trend.trend().probability() < (1 - coverage) / trends.size();
  }

  /**
   * The number of units in each bin, by first tests that passed.
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
