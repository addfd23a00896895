// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.causes.CauseObservation;
import millrace.assessment.Assessment.PointCounts;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.SharedRunInputs;
import millrace.assessment.noise.NoiseRecords;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.reduction.BenchReadingReduction;
import millrace.assessment.reduction.ImportedReadingReduction;
import millrace.assessment.reduction.ReadingReduction;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.assessment.screening.DeadPointScreening;
import millrace.assessment.screening.ImportedOutlierScreening;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.assessment.series.SeriesResults;
import millrace.assessment.series.SoakStudies;
import millrace.assessment.series.TimeRecordStudy;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.evidence.EarlyEnd;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.RunOrigin;
import millrace.evidence.part.PartValue;
import millrace.fault.NotAnalysableException;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.PlanChange;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.quantity.TimeSpanSeconds;

/**
 * All data that an assessment takes from the logbook, read in one pass: readings as currents at
 * voltages, and further facts of the run.
 *
 * @param summary the run
 * @param basis datasheet and bench to judge by
 * @param withSuspects points of ranges, suspect ones included
 * @param wild the suspect ones
 * @param points the points of ranges without suspect ones
 * @param off points with the source switched off
 * @param knees steps of searches for the knee
 * @param soaks the settling of the unit at each temperature
 * @param timeRecords series of readings over time, with their results
 * @param thermometer the thermometer that counts, in words; empty if no temperature is known
 * @param batch judged values of the other units of its batch; empty without a batch
 * @param byHand values of parts that a person measured while it ran
 * @param planChanges changes of its plan during the run
 * @param incidents number of incidents by kind
 * @param counts number of points by how they ended
 * @param notes notes for the reader
 */
record RunForAssessment(
    RunSummary summary,
    JudgementBasis basis,
    List<ReducedPoint> withSuspects,
    ImportedOutlierScreening wild,
    List<ReducedPoint> points,
    List<ReducedPoint> off,
    List<ReducedPoint> knees,
    SoakStudies soaks,
    List<TimeRecordStudy> timeRecords,
    Optional<String> thermometer,
    List<BatchJudgedValue> batch,
    List<CauseObservation.OfPart> byHand,
    List<PlanChange> planChanges,
    Map<IncidentKind, Long> incidents,
    PointCounts counts,
    List<String> notes) {

  /** Reads a run. */
  static RunForAssessment read(RunReader reader, JudgementBasis basis, SharedRunInputs shared) {
    RunSummary summary = reader.summary();
    boolean imported = imported(summary);
    List<String> notes = new ArrayList<>();
    RunReadingTallies tallies =
        RunReadingTallies.forResults(reader, WithdrawnPoints.of(reader, notes));
    notes.addAll(tallies.notes());
    SoakStudies soaks = new SoakStudies(reader, tallies, basis);
    List<PointReadingTally> measured =
        imported
            ? tallies.imported()
            : DeadPointScreening.without(tallies.points(PointKind.MEASURE), notes);
    NoiseRecords stability = new NoiseRecords(reader, tallies);
    ReadingNoise slow = new ReadingNoise(tallies, stability, basis.referenceDegC());
    ReadingReduction reduction =
        imported || basis.bench().isEmpty()
            ? new ImportedReadingReduction(measured, slow)
            : new BenchReadingReduction(basis.bench().get(), tallies, slow);
    List<ReducedPoint> reduced = reduced(reduction, measured);
    List<ReducedPoint> withSuspects =
        imported && !reduced.isEmpty() ? TemperatureStays.numbered(reduced) : reduced;
    ImportedOutlierScreening wild =
        ImportedOutlierScreening.of(imported ? withSuspects : List.of());
    List<ReducedPoint> points = wild.without(withSuspects);
    List<ReducedPoint> off = reduced(reduction, tallies.points(PointKind.SOURCE_OFF));
    List<ReducedPoint> knees = reduced(reduction, tallies.points(PointKind.KNEE));
    notes.addAll(reduction.notes());
    if (points.isEmpty() && off.isEmpty() && tallies.records().isEmpty()) {
      throw withoutCurrent(summary.id());
    }
    SeriesResults overTime = new SeriesResults(basis, tallies, reduction, stability);
    return new RunForAssessment(
        summary,
        basis,
        withSuspects,
        wild,
        points,
        off,
        knees,
        soaks,
        tallies.records().stream().flatMap(r -> overTime.of(r).stream()).toList(),
        thermometer(points, tallies),
        shared.batch(reader),
        byHand(reader),
        reader.planChanges(),
        incidents(reader),
        counts(reader),
        notes);
  }

  private static NotAnalysableException withoutCurrent(long run) {
    return new NotAnalysableException(
        "run %s has no current to compute anything from: at each point it is missing, no number, off the meter's range, or flagged as not to be believed. 'millrace show %s' tells why, point by point."
            .formatted(run, run));
  }

  private static List<ReducedPoint> reduced(
      ReadingReduction reduction, List<PointReadingTally> tallies) {
    List<ReducedPoint> reduced = new ArrayList<>();
    tallies.forEach(t -> reduction.of(t).ifPresent(reduced::add));
    return reduced;
  }

  private static boolean imported(RunSummary summary) {
    return summary.start().origin() == RunOrigin.IMPORTED;
  }

  /** Tells whether its readings were taken elsewhere. */
  boolean imported() {
    return imported(summary);
  }

  /** The thermometer that counts (methods.md 5.1). */
  private static Optional<String> thermometer(
      List<ReducedPoint> points, RunReadingTallies tallies) {
    boolean any = points.stream().anyMatch(p -> p.temperatureDegC().isPresent());
    return tallies.points(PointKind.MEASURE).stream()
        .findFirst()
        .filter(first -> any)
        .map(RunForAssessment::thermometer);
  }

  private static String thermometer(PointReadingTally first) {
    if (first.of(MeasuredSignal.UNIT_TEMPERATURE).isPresent()) {
      return "temperatures are those of the thermometer at the unit";
    }
    return first.of(MeasuredSignal.CHAMBER_TEMPERATURE).isPresent()
        ? "temperatures are the chamber's: there is no thermometer at the unit"
        : "temperatures are those that were set: none was measured";
  }

  private static List<CauseObservation.OfPart> byHand(RunReader reader) {
    List<CauseObservation.OfPart> values = new ArrayList<>();
    for (Incident incident : reader.incidents()) {
      double timeS = TimeSpanSeconds.seconds(incident.elapsed());
      PartValue.parse(incident.text())
          .filter(v -> incident.kind() == IncidentKind.OPERATOR)
          .ifPresent(v -> values.add(new CauseObservation.OfPart(v, timeS)));
    }
    return values;
  }

  private static Map<IncidentKind, Long> incidents(RunReader reader) {
    Map<IncidentKind, Long> counts = new EnumMap<>(IncidentKind.class);
    reader.incidents().forEach(i -> counts.merge(i.kind(), 1L, Long::sum));
    return counts;
  }

  private static PointCounts counts(RunReader reader) {
    Map<PointState, Integer> n = reader.pointStates();
    int skipped = n.getOrDefault(PointState.SKIPPED, 0);
    Optional<EarlyEnd> early = skipped > 0 ? EarlyEnd.among(reader.points()) : Optional.empty();
    return new PointCounts(
        n.getOrDefault(PointState.COMPLETE, 0),
        n.getOrDefault(PointState.FLAGGED, 0) + n.getOrDefault(PointState.OPEN, 0),
        Math.max(0, skipped - early.map(EarlyEnd::points).orElse(0)),
        early);
  }
}
