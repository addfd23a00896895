// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
import millrace.logbook.PlanChange;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;

/**
 * Everything that was found about one run: the results, and the curves that they come from.
 *
 * @param run the run
 * @param basis what it was judged by
 * @param results judged where a limit applies; (quantity, range, at) is unique
 * @param bin the first bin of the datasheet whose every line the measured values hold; empty if
 *     there are none, or none takes the unit. It counts for a unit that passed.
 * @param response what the unit does at any condition
 * @param loads load sweeps, by range and stay
 * @param temperatures one study per range
 * @param soaks one per stay at a temperature
 * @param records currents over time
 * @param byHand what a person measured of parts, at times from the start of the run
 * @param incidents how many of each kind; kinds without any are left out
 * @param points how the points of the run fared
 * @param planChanges what was changed of its plan while it went on
 * @param notes what a reader must know of the whole run
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
   * Whether the run looked at its plan again by what it had measured.
   *
   * @return true for adaptive stopping
   */
  public boolean adaptive() {
    return !run.start().facts().decidesAtU().isEmpty();
  }

  /**
   * How points fared.
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
