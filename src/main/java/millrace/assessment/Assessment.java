// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.Collections;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.causes.CauseObservation;
import millrace.analysis.response.UnitResponse;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.assessment.series.SoakStudy;
import millrace.assessment.series.TimeRecordStudy;
import millrace.evidence.EarlyEnd;
import millrace.evidence.IncidentKind;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.PlanChange;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;

/**
 * The results of one run and the curves that they come from.
 *
 * @param run the run
 * @param basis datasheet and bench of the judgement
 * @param results judged where a limit applies; (quantity, range, at) is unique
 * @param bin the first bin of the datasheet with every line met by the measured values; empty if
 *     the datasheet has no bins or no bin takes the unit. It counts only for a unit that passed.
 * @param response the unit's response: its current at any condition
 * @param loads load sweeps, by range and stay
 * @param temperatures one study per range
 * @param soaks one per stay at a temperature
 * @param records currents over time
 * @param byHand values of parts that a person measured, with the time from the start of the run
 * @param incidents number of incidents by kind; a kind without incidents is left out
 * @param points number of points by how they ended
 * @param planChanges changes of its plan during the run
 * @param notes notes on the whole run
 */
public record Assessment(
    RunSummary run,
    JudgementBasis basis,
    List<Result> results,
    Optional<String> bin,
    UnitResponse response,
    List<LoadSweepStudy> loads,
    List<RangeTemperatureStudy> temperatures,
    List<SoakStudy> soaks,
    List<TimeRecordStudy> records,
    List<CauseObservation.OfPart> byHand,
    Map<IncidentKind, Long> incidents,
    PointCounts points,
    List<PlanChange> planChanges,
    List<String> notes) {

  /** Copies the collections. */
  public Assessment {
    results = List.copyOf(results);
    loads = List.copyOf(loads);
    temperatures = List.copyOf(temperatures);
    soaks = List.copyOf(soaks);
    records = List.copyOf(records);
    byHand = List.copyOf(byHand);
    Map<IncidentKind, Long> counts = new EnumMap<>(IncidentKind.class);
    counts.putAll(incidents);
    incidents = Collections.unmodifiableMap(counts);
    planChanges = List.copyOf(planChanges);
    notes = List.copyOf(notes);
  }

  /**
   * Tells whether the run adapted its plan to what it had measured.
   *
   * @return true for adaptive stopping
   */
  public boolean adaptive() {
    return !run.start().facts().decidesAtU().isEmpty();
  }

  /**
   * The quantities that the datasheet limits and the sequence does not compute: a pass says nothing
   * of them.
   *
   * @return in the order of {@link ResultQuantity}; empty if every limit is judged
   */
  public List<ResultQuantity> leftOut() {
    Set<ResultQuantity> limited = EnumSet.noneOf(ResultQuantity.class);
    basis.datasheet().ifPresent(sheet -> sheet.limits().forEach(l -> limited.add(l.quantity())));
    limited.removeAll(run.start().facts().wanted());
    return List.copyOf(limited);
  }

  /**
   * Number of points by how they ended.
   *
   * @param complete with readings as asked
   * @param flagged doubtful
   * @param skipped without readings, though they were wanted
   * @param early those that were not needed any more; empty where all were wanted
   */
  public record PointCounts(int complete, int flagged, int skipped, Optional<EarlyEnd> early) {
    /**
     * Tells whether every point that was wanted is there and good.
     *
     * @return true if none is flagged or skipped
     */
    public boolean whole() {
      return flagged == 0 && skipped == 0;
    }

    /**
     * The points that are not good.
     *
     * @return such as {@code 2 points flagged, 1 skipped}
     */
    public String inWords() {
      return NumberText.counted(flagged, "point") + " flagged, " + skipped + " skipped";
    }
  }
}
