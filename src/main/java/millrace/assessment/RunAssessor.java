// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.causes.CauseObservation;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ReferenceCurrent;
import millrace.analysis.response.UnitResponse;
import millrace.assessment.Assessment.PointCounts;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.judging.DatasheetLimitJudge;
import millrace.assessment.noise.NoiseRecords;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.range.RangeAssessor;
import millrace.assessment.range.RangePairResults;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.assessment.range.SupplyResults;
import millrace.assessment.reduction.BenchReadingReduction;
import millrace.assessment.reduction.ImportedReadingReduction;
import millrace.assessment.reduction.ReadingReduction;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.assessment.response.UnitResponseBuilder;
import millrace.assessment.screening.DeadPointScreening;
import millrace.assessment.screening.ImportedOutlierScreening;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.assessment.series.SeriesResults;
import millrace.assessment.series.SoakStudies;
import millrace.assessment.series.TimeRecordStudy;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.datasheet.Datasheet;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.evidence.part.PartValue;
import millrace.fault.NotAnalysableException;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.RunReader;
import millrace.quantity.TimeSpanSeconds;
import millrace.time.Seeds;

/**
 * Assesses a run: reads it once as a stream, reduces its points, and asks the measurement science.
 * Single-threaded.
 */
final class RunAssessor {
  private final RunReader reader;
  private final JudgementBasis basis;
  private final Optional<Seeds> trials;
  private final RunReadingTallies tallies;
  private final SoakStudies soaks;
  private final NoiseRecords stability;
  private final ReadingReduction reduction;
  private final List<ReducedPoint> withSuspects;
  private final ImportedOutlierScreening wild;
  private final List<ReducedPoint> points;
  private final List<ReducedPoint> off;
  private final List<ReducedPoint> knees;
  private final Map<String, RangeAssessor> ranges = new LinkedHashMap<>();
  private final List<Result> results = new ArrayList<>();
  private final List<LoadSweepStudy> loads = new ArrayList<>();
  private final List<RangeTemperatureStudy> temperatures = new ArrayList<>();
  private final List<String> notes = new ArrayList<>();

  /**
   * Reads the run.
   *
   * @param reader the run
   * @param basis datasheet and bench to judge by
   * @param trials where the chance of trials comes from; empty for none
   */
  RunAssessor(RunReader reader, JudgementBasis basis, Optional<Seeds> trials) {
    this.trials = trials;
    this.reader = reader;
    this.basis = basis;
    this.tallies = RunReadingTallies.forResults(reader, WithdrawnPoints.of(reader, notes));
    notes.addAll(tallies.notes());
    this.soaks = new SoakStudies(reader, tallies, basis);
    boolean imported = imported();
    List<PointReadingTally> measured =
        imported
            ? tallies.imported()
            : DeadPointScreening.without(tallies.points(PointKind.MEASURE), notes);
    this.stability = new NoiseRecords(reader, tallies);
    ReadingNoise slow = new ReadingNoise(tallies, stability, basis.referenceDegC());
    this.reduction =
        imported || basis.bench().isEmpty()
            ? new ImportedReadingReduction(measured, slow)
            : new BenchReadingReduction(basis.bench().get(), tallies, slow);
    List<ReducedPoint> reduced = reduced(reduction, measured);
    this.withSuspects =
        imported && !reduced.isEmpty() ? TemperatureStays.numbered(reduced) : reduced;
    this.wild = ImportedOutlierScreening.of(imported ? withSuspects : List.of());
    this.points = wild.without(withSuspects);
    this.off = reduced(reduction, tallies.points(PointKind.SOURCE_OFF));
    this.knees = reduced(reduction, tallies.points(PointKind.KNEE));
    notes.addAll(reduction.notes());
  }

  private static List<ReducedPoint> reduced(
      ReadingReduction reduction, List<PointReadingTally> tallies) {
    List<ReducedPoint> reduced = new ArrayList<>();
    tallies.forEach(t -> reduction.of(t).ifPresent(reduced::add));
    return reduced;
  }

  /** Everything that was found. */
  Assessment assessment() {
    boolean series = !tallies.records().isEmpty();
    if (points.isEmpty() && off.isEmpty() && !series) {
      throw new NotAnalysableException(
          "run %s has no current to compute anything from: at each point it is missing, no number, off the meter's range, or flagged as not to be believed. 'millrace show %s' tells why, point by point."
              .formatted(reader.summary().id(), reader.summary().id()));
    }
    TemperatureStays.byRange(points)
        .forEach((range, there) -> ranges.put(range, assessor(range, there)));
    UnitResponse response = response(ranges.values());
    ranges.forEach((range, assessor) -> range(range, assessor, response));
    double coverage = basis.coverage();
    tried("supply", points, moved -> SupplyResults.regulation(moved, coverage));
    tried("leakage", off, moved -> SupplyResults.leakage(moved, coverage));
    SeriesResults overTime = new SeriesResults(basis, tallies, reduction, stability);
    List<TimeRecordStudy> records =
        tallies.records().stream()
            .flatMap(r -> overTime.of(r).stream())
            .map(this::triedByBudget)
            .toList();
    records.forEach(r -> results.addAll(r.results()));
    pairs();
    pointNotes();
    Set<ResultQuantity> wanted = reader.summary().start().facts().wanted();
    results.removeIf(r -> !wanted.contains(r.quantity()));
    List<Result> unique = unique(results);
    Optional<DatasheetLimitJudge> judging =
        basis.datasheet().map(s -> judging(s, unique, response));
    List<Result> told =
        judging.map(j -> risks(j.judged(wanted))).orElse(unique).stream()
            .map(r -> MonteCarloResultCheck.tried(r) ? r : triedByBudget(r))
            .toList();
    MonteCarloResultCheck.summary(told).ifPresent(notes::add);
    return new Assessment(
        reader.summary(),
        basis,
        told,
        judging.flatMap(DatasheetLimitJudge::bin),
        response,
        loads,
        temperatures,
        soaks.studies(),
        records,
        byHand(),
        incidents(),
        counts(),
        notes);
  }

  /** Results that follow from points, with trials beside them where they are wished for. */
  private void tried(String name, List<ReducedPoint> from, MonteCarloResultCheck.Again again) {
    tried(name, from, again.of(from), again);
  }

  private void tried(
      String name, List<ReducedPoint> from, List<Result> found, MonteCarloResultCheck.Again again) {
    boolean some = trials.isPresent() && !found.isEmpty();
    results.addAll(
        some
            ? MonteCarloResultCheck.of(name, from, basis.coverage(), again)
                .beside(found, trials.get())
            : found);
  }

  private Result triedByBudget(Result result) {
    return trials
        .map(s -> MonteCarloResultCheck.byBudget(result, basis.coverage(), s))
        .orElse(result);
  }

  private TimeRecordStudy triedByBudget(TimeRecordStudy study) {
    List<Result> beside = study.results().stream().map(this::triedByBudget).toList();
    return new TimeRecordStudy(study.range(), study.nominalA(), study.series(), beside);
  }

  /** Neighbouring ranges; in trials both are moved together, so that what they share cancels. */
  private void pairs() {
    for (int i = 1; i < temperatures.size(); i++) {
      List<RangeTemperatureStudy> pair = temperatures.subList(i - 1, i + 1);
      List<Result> found = new RangePairResults(basis, points).of(pair);
      Set<String> names = Set.of(pair.get(0).range(), pair.get(1).range());
      List<ReducedPoint> both = new ArrayList<>();
      TemperatureStays.byRange(points.stream().filter(p -> names.contains(p.range())).toList())
          .forEach((range, there) -> both.addAll(soaks.carried(range, there)));
      tried("pair " + i, both, found, m -> new RangePairResults(basis, m).of(studies(m)));
    }
  }

  private List<RangeTemperatureStudy> studies(List<ReducedPoint> moved) {
    return TemperatureStays.byRange(moved).values().stream()
        .flatMap(there -> ranges.get(there.get(0).range()).study(there).stream())
        .toList();
  }

  private RangeAssessor assessor(String range, List<ReducedPoint> there) {
    List<ReducedPoint> all = new ArrayList<>(there);
    knees.stream().filter(k -> k.range().equals(range)).forEach(all::add);
    return new RangeAssessor(range, soaks.carried(range, all), basis);
  }

  /** What the unit does at any condition (methods.md 11). */
  private UnitResponse response(Collection<RangeAssessor> ranges) {
    UnitResponseBuilder response = new UnitResponseBuilder(points, imported(), basis, batch());
    ranges.forEach(response::add);
    return response.response();
  }

  private boolean imported() {
    return reader.summary().start().origin() == RunOrigin.IMPORTED;
  }

  private void range(String range, RangeAssessor assessor, UnitResponse response) {
    tried(
        range,
        assessor.all(),
        besideSuspects(range, assessor.results()),
        moved -> new RangeAssessor(range, moved, basis, Optional.of(assessor)).results());
    List<Result> references = references(range, assessor, response);
    (wild.anyIn(range)
            ? ImportedOutlierScreening.beside(references, withSuspects(range))
            : references)
        .stream().map(this::triedByBudget).forEach(results::add);
    loads.addAll(assessor.loads());
    assessor.temperatures().ifPresent(temperatures::add);
  }

  private List<Result> besideSuspects(String range, List<Result> found) {
    if (!wild.anyIn(range)) {
      return found;
    }
    return ImportedOutlierScreening.beside(found, assessorWithSuspects(range).results());
  }

  private RangeAssessor assessorWithSuspects(String range) {
    List<ReducedPoint> all = withSuspects.stream().filter(p -> p.range().equals(range)).toList();
    return new RangeAssessor(range, soaks.carried(range, all), basis);
  }

  /** The current where it is promised as it would be with the readings that are left out. */
  private List<Result> withSuspects(String range) {
    RangeAssessor assessor = assessorWithSuspects(range);
    UnitResponseBuilder response =
        new UnitResponseBuilder(withSuspects, imported(), basis, batch());
    response.add(assessor);
    return references(range, assessor, response.response());
  }

  private List<Result> risks(List<Result> judged) {
    BatchRisks risks = new BatchRisks(batch());
    return judged.stream().map(risks::with).toList();
  }

  private DatasheetLimitJudge judging(Datasheet sheet, List<Result> found, UnitResponse response) {
    return new DatasheetLimitJudge(
        sheet,
        found,
        Optional.of(response),
        MeasuredConditionsFinder.ranges(reader, points, loads, found));
  }

  private List<BatchJudgedValue> batch() {
    return reader.summary().start().people().batch().isPresent() ? reader.batch() : List.of();
  }

  /** The current where it is promised, at each temperature, and its error (methods.md 3.7). */
  private List<Result> references(String range, RangeAssessor assessor, UnitResponse response) {
    LoadSweepRequest question = assessor.question();
    Optional<RangeResponse> own = response.range(range);
    if (own.isEmpty()) {
      return List.of(unfitted(range, assessor, response));
    }
    ReferenceCurrent reference =
        new ReferenceCurrent(own.get(), question.reference(), basis.coverage());
    List<Result> all = new ArrayList<>();
    assessor.temperaturesDegC().forEach(t -> all.add(reference.current(t)));
    all.add(reference.error());
    return all;
  }

  private Result unfitted(String range, RangeAssessor assessor, UnitResponse response) {
    LoadSweepRequest question = assessor.question();
    boolean none = question.nominalA() == 0;
    String reason =
        none
            ? "the nominal current is 0, ppm are not counted of it"
            : response.whyNot(range).orElse("not measured");
    return ReferenceCurrent.fromPoints(
        new ReferenceCurrent.Unfitted(range, question.nominalA(), question.reference(), reason),
        none ? List.of() : assessor.atReferenceA(),
        basis.coverage());
  }

  /** (quantity, range, at) is unique: of two the first stays. */
  private static List<Result> unique(List<Result> all) {
    Set<List<Object>> seen = new HashSet<>();
    List<Result> unique = new ArrayList<>();
    for (Result r : all) {
      if (seen.add(List.of(r.quantity(), r.range(), r.at()))) {
        unique.add(r);
      }
    }
    return unique;
  }

  private void pointNotes() {
    notes.addAll(wild.notes(withSuspects));
    for (ReducedPoint p : points) {
      p.notes().forEach(n -> notes.add("%s (%s): %s".formatted(p.name(), p.point().key(), n)));
    }
    String thermometer = thermometer();
    if (!thermometer.isEmpty()) {
      notes.add(thermometer);
    }
  }

  /** Which temperature counts (methods.md 5.1). */
  private String thermometer() {
    boolean any = points.stream().anyMatch(p -> p.temperatureDegC().isPresent());
    Optional<PointReadingTally> first = tallies.points(PointKind.MEASURE).stream().findFirst();
    if (!any || first.isEmpty()) {
      return "";
    }
    if (first.get().of(MeasuredSignal.UNIT_TEMPERATURE).isPresent()) {
      return "temperatures are those of the thermometer at the unit";
    }
    return first.get().of(MeasuredSignal.CHAMBER_TEMPERATURE).isPresent()
        ? "temperatures are the chamber's: there is no thermometer at the unit"
        : "temperatures are those that were set: none was measured";
  }

  private List<CauseObservation.OfPart> byHand() {
    List<CauseObservation.OfPart> values = new ArrayList<>();
    for (Incident incident : reader.incidents()) {
      double timeS = TimeSpanSeconds.seconds(incident.elapsed());
      PartValue.parse(incident.text())
          .filter(v -> incident.kind() == IncidentKind.OPERATOR)
          .ifPresent(v -> values.add(new CauseObservation.OfPart(v, timeS)));
    }
    return values;
  }

  private Map<IncidentKind, Long> incidents() {
    Map<IncidentKind, Long> counts = new EnumMap<>(IncidentKind.class);
    reader.incidents().forEach(i -> counts.merge(i.kind(), 1L, Long::sum));
    return counts;
  }

  private PointCounts counts() {
    Map<PointState, Integer> n = reader.pointStates();
    return new PointCounts(
        n.getOrDefault(PointState.COMPLETE, 0),
        n.getOrDefault(PointState.FLAGGED, 0) + n.getOrDefault(PointState.OPEN, 0),
        n.getOrDefault(PointState.SKIPPED, 0));
  }
}
