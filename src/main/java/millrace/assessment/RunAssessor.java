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
import millrace.analysis.load.LoadQuestion;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ReferenceCurrent;
import millrace.analysis.response.UnitResponse;
import millrace.assessment.Assessment.PointCounts;
import millrace.assessment.basis.Basis;
import millrace.assessment.judging.Judging;
import millrace.assessment.noise.NoiseRecords;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.range.LoadStudy;
import millrace.assessment.range.PairResults;
import millrace.assessment.range.RangeAssessor;
import millrace.assessment.range.RangeStudy;
import millrace.assessment.range.SupplyResults;
import millrace.assessment.reduction.BenchReduction;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.Reduction;
import millrace.assessment.reduction.StatedReduction;
import millrace.assessment.reduction.TemperatureStays;
import millrace.assessment.response.ResponseOf;
import millrace.assessment.screening.DeadPoints;
import millrace.assessment.screening.WildPoints;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.assessment.series.RecordStudy;
import millrace.assessment.series.SeriesResults;
import millrace.assessment.series.SoakStudies;
import millrace.assessment.tally.PointTally;
import millrace.assessment.tally.Tallies;
import millrace.datasheet.Datasheet;
import millrace.evidence.IncidentKind;
import millrace.evidence.Origin;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.evidence.Signal;
import millrace.fault.NotAnalysableException;
import millrace.logbook.JudgedValue;
import millrace.logbook.RunReader;
import millrace.time.Seeds;

/**
 * Assesses a run: reads it once as a stream, reduces its points, and asks the measurement science.
 * Single-threaded.
 */
final class RunAssessor {
  private final RunReader reader;
  private final Basis basis;
  private final Optional<Seeds> trials;
  private final Tallies tallies;
  private final SoakStudies soaks;
  private final NoiseRecords stability;
  private final Reduction reduction;
  private final List<ReducedPoint> withSuspects;
  private final WildPoints wild;
  private final List<ReducedPoint> points;
  private final List<ReducedPoint> off;
  private final List<ReducedPoint> knees;
  private final Map<String, RangeAssessor> ranges = new LinkedHashMap<>();
  private final List<Result> results = new ArrayList<>();
  private final List<LoadStudy> loads = new ArrayList<>();
  private final List<RangeStudy> temperatures = new ArrayList<>();
  private final List<String> notes = new ArrayList<>();

  /**
   * Reads the run.
   *
   * @param reader the run
   * @param basis datasheet and bench to judge by
   * @param trials where the chance of trials comes from; empty for none
   */
  RunAssessor(RunReader reader, Basis basis, Optional<Seeds> trials) {
    this.trials = trials;
    this.reader = reader;
    this.basis = basis;
    this.tallies = Tallies.forResults(reader, WithdrawnPoints.of(reader, notes));
    notes.addAll(tallies.notes());
    this.soaks = new SoakStudies(reader, tallies, basis);
    boolean imported = imported();
    List<PointTally> measured =
        imported
            ? tallies.imported()
            : DeadPoints.without(tallies.points(PointKind.MEASURE), notes);
    this.stability = new NoiseRecords(reader, tallies);
    ReadingNoise slow = new ReadingNoise(tallies, stability, basis.referenceDegC());
    this.reduction =
        imported || basis.bench().isEmpty()
            ? new StatedReduction(measured, slow)
            : new BenchReduction(basis.bench().get(), tallies, slow);
    List<ReducedPoint> reduced = reduced(reduction, measured);
    this.withSuspects =
        imported && !reduced.isEmpty() ? TemperatureStays.numbered(reduced) : reduced;
    this.wild = WildPoints.of(imported ? withSuspects : List.of());
    this.points = wild.without(withSuspects);
    this.off = reduced(reduction, tallies.points(PointKind.SOURCE_OFF));
    this.knees = reduced(reduction, tallies.points(PointKind.KNEE));
    notes.addAll(reduction.notes());
  }

  private static List<ReducedPoint> reduced(Reduction reduction, List<PointTally> tallies) {
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
    List<RecordStudy> records =
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
    Optional<Judging> judging = basis.datasheet().map(s -> judging(s, unique, response));
    List<Result> told =
        judging.map(j -> risks(j.judged(wanted))).orElse(unique).stream()
            .map(r -> Trials.tried(r) ? r : triedByBudget(r))
            .toList();
    Trials.summary(told).ifPresent(notes::add);
    return new Assessment(
        reader.summary(),
        basis,
        told,
        judging.flatMap(Judging::bin),
        response,
        loads,
        temperatures,
        soaks.studies(),
        records,
        incidents(),
        counts(),
        notes);
  }

  /** Results that follow from points, with trials beside them where they are wished for. */
  private void tried(String name, List<ReducedPoint> from, Trials.Again again) {
    tried(name, from, again.of(from), again);
  }

  private void tried(String name, List<ReducedPoint> from, List<Result> found, Trials.Again again) {
    boolean some = trials.isPresent() && !found.isEmpty();
    results.addAll(
        some ? Trials.of(name, from, basis.coverage(), again).beside(found, trials.get()) : found);
  }

  private Result triedByBudget(Result result) {
    return trials.map(s -> Trials.byBudget(result, basis.coverage(), s)).orElse(result);
  }

  private RecordStudy triedByBudget(RecordStudy study) {
    List<Result> beside = study.results().stream().map(this::triedByBudget).toList();
    return new RecordStudy(study.range(), study.nominalA(), study.series(), beside);
  }

  /** Neighbouring ranges; in trials both are moved together, so that what they share cancels. */
  private void pairs() {
    for (int i = 1; i < temperatures.size(); i++) {
      List<RangeStudy> pair = temperatures.subList(i - 1, i + 1);
      List<Result> found = new PairResults(basis, points).of(pair);
      Set<String> names = Set.of(pair.get(0).range(), pair.get(1).range());
      List<ReducedPoint> both = new ArrayList<>();
      TemperatureStays.byRange(points.stream().filter(p -> names.contains(p.range())).toList())
          .forEach((range, there) -> both.addAll(soaks.carried(range, there)));
      tried("pair " + i, both, found, m -> new PairResults(basis, m).of(studies(m)));
    }
  }

  private List<RangeStudy> studies(List<ReducedPoint> moved) {
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
    ResponseOf response = new ResponseOf(points, imported(), basis, batch());
    ranges.forEach(response::add);
    return response.response();
  }

  private boolean imported() {
    return reader.summary().start().origin() == Origin.IMPORTED;
  }

  private void range(String range, RangeAssessor assessor, UnitResponse response) {
    tried(
        range,
        assessor.all(),
        besideSuspects(range, assessor.results()),
        moved -> new RangeAssessor(range, moved, basis, Optional.of(assessor)).results());
    List<Result> references = references(range, assessor, response);
    (wild.anyIn(range) ? WildPoints.beside(references, withSuspects(range)) : references)
        .stream().map(this::triedByBudget).forEach(results::add);
    loads.addAll(assessor.loads());
    assessor.temperatures().ifPresent(temperatures::add);
  }

  private List<Result> besideSuspects(String range, List<Result> found) {
    if (!wild.anyIn(range)) {
      return found;
    }
    return WildPoints.beside(found, assessorWithSuspects(range).results());
  }

  private RangeAssessor assessorWithSuspects(String range) {
    List<ReducedPoint> all = withSuspects.stream().filter(p -> p.range().equals(range)).toList();
    return new RangeAssessor(range, soaks.carried(range, all), basis);
  }

  /** The current where it is promised as it would be with the readings that are left out. */
  private List<Result> withSuspects(String range) {
    RangeAssessor assessor = assessorWithSuspects(range);
    ResponseOf response = new ResponseOf(withSuspects, imported(), basis, batch());
    response.add(assessor);
    return references(range, assessor, response.response());
  }

  private List<Result> risks(List<Result> judged) {
    BatchRisks risks = new BatchRisks(batch());
    return judged.stream().map(risks::with).toList();
  }

  private Judging judging(Datasheet sheet, List<Result> found, UnitResponse response) {
    return new Judging(
        sheet, found, Optional.of(response), KnownOf.ranges(reader, points, loads, found));
  }

  private List<JudgedValue> batch() {
    return reader.summary().start().people().batch().isPresent() ? reader.batch() : List.of();
  }

  /** The current where it is promised, at each temperature, and its error (methods.md 3.7). */
  private List<Result> references(String range, RangeAssessor assessor, UnitResponse response) {
    LoadQuestion question = assessor.question();
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
    LoadQuestion question = assessor.question();
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
    Optional<PointTally> first = tallies.points(PointKind.MEASURE).stream().findFirst();
    if (!any || first.isEmpty()) {
      return "";
    }
    if (first.get().of(Signal.UNIT_TEMPERATURE).isPresent()) {
      return "temperatures are those of the thermometer at the unit";
    }
    return first.get().of(Signal.CHAMBER_TEMPERATURE).isPresent()
        ? "temperatures are the chamber's: there is no thermometer at the unit"
        : "temperatures are those that were set: none was measured";
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
