// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ReferenceCurrent;
import millrace.analysis.response.UnitResponse;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.judging.DatasheetLimitJudge;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.range.RangeAssessor;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.assessment.range.SupplyResults;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.assessment.response.UnitResponseBuilder;
import millrace.assessment.screening.ImportedOutlierScreening;
import millrace.assessment.series.TimeRecordStudy;
import millrace.datasheet.Datasheet;
import millrace.evidence.EarlyEnd;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.PlanChange;
import millrace.quantity.NumberText;

/**
 * Assesses a run that was read: computes the results range by range and judges them. Does no
 * reading. For one thread, which it helps by others.
 */
final class RunAssessor {
  private final RunForAssessment run;
  private final JudgementBasis basis;
  private final Optional<RunTrials> trials;
  private final List<ReducedPoint> points;
  private final Map<String, RangeAssessor> ranges = new LinkedHashMap<>();
  private final List<Result> results = new ArrayList<>();
  private final List<LoadSweepStudy> loads = new ArrayList<>();
  private final List<RangeTemperatureStudy> temperatures = new ArrayList<>();
  private final List<String> notes = new ArrayList<>();

  /**
   * An assessment of one run.
   *
   * @param run the data read from the logbook
   * @param trials what is tried; empty for no trials
   */
  RunAssessor(RunForAssessment run, Optional<RunTrials> trials) {
    this.run = run;
    this.basis = run.basis();
    this.trials = trials;
    this.points = run.points();
    run.counts().early().ifPresent(e -> notes.add(e.inWords()));
    notes.addAll(run.notes());
  }

  /** Everything that was found. */
  Assessment assessment() {
    assessed(TemperatureStays.byRange(points)).forEach(a -> ranges.put(a.question().range(), a));
    UnitResponse response = response(ranges.values());
    List<Result> pairs = ranges(response);
    double coverage = basis.coverage();
    tried("supply", points, moved -> SupplyResults.regulation(moved, coverage));
    tried("leakage", run.off(), moved -> SupplyResults.leakage(moved, coverage));
    List<TimeRecordStudy> records = run.timeRecords().stream().map(this::triedByBudget).toList();
    records.forEach(r -> results.addAll(r.results()));
    results.addAll(pairs);
    pointNotes();
    Set<ResultQuantity> wanted = run.summary().start().facts().wanted();
    results.removeIf(r -> !wanted.contains(r.quantity()));
    List<Result> unique = unique(results);
    Optional<DatasheetLimitJudge> judging =
        basis.datasheet().map(s -> judging(s, unique, response));
    List<Result> told =
        judging.map(j -> risks(j.judged(wanted))).orElse(unique).stream()
            .map(r -> MonteCarloResultCheck.tried(r) ? r : triedByBudget(r))
            .toList();
    trials.ifPresent(RunTrials::ended);
    TrialAgreement.of(told).ifPresent(t -> notes.add(t.inOneLine()));
    return new Assessment(
        run.summary(),
        basis,
        told,
        judging.flatMap(DatasheetLimitJudge::bin),
        response,
        loads,
        temperatures,
        run.soaks().studies(),
        records,
        run.byHand(),
        run.incidents(),
        run.counts(),
        planChanges(),
        notes);
  }

  private List<PlanChange> planChanges() {
    List<PlanChange> changes = run.planChanges();
    if (!run.summary().start().facts().decidesAtU().isEmpty()) {
      notes.add(
          "the stopping was adaptive: each limit counted as decided at a U that was fixed before the run, whatever value was found; %s of the plan came of it"
              .formatted(
                  NumberText.counted(
                      changes.stream().filter(c -> c.kind().isAdaptive()).count(), "change")));
    }
    return changes;
  }

  /** Results computed from points, with trials if they are asked for. */
  private void tried(
      String name, List<ReducedPoint> from, Function<List<ReducedPoint>, List<Result>> computed) {
    MonteCarloResultCheck.Again again = (moved, over) -> List.of(computed.apply(moved.apply(0)));
    results.addAll(tried(name, List.of(from), List.of(computed.apply(from)), again).get(0));
  }

  private List<List<Result>> tried(
      String name,
      List<List<ReducedPoint>> from,
      List<List<Result>> found,
      MonteCarloResultCheck.Again again) {
    if (trials.isEmpty() || found.stream().allMatch(List::isEmpty)) {
      return found;
    }
    trials.get().begin();
    return MonteCarloResultCheck.of(name, from, basis.coverage(), again)
        .beside(found, trials.get().seeds(), trials.get()::tried);
  }

  private Result triedByBudget(Result result) {
    return trials
        .map(s -> MonteCarloResultCheck.byBudget(result, basis.coverage(), s.seeds()))
        .orElse(result);
  }

  private TimeRecordStudy triedByBudget(TimeRecordStudy study) {
    List<Result> beside = study.results().stream().map(this::triedByBudget).toList();
    return new TimeRecordStudy(study.range(), study.nominalA(), study.series(), beside);
  }

  /** Ranges share nothing that changes, so that each is computed where a processor is free. */
  private List<RangeAssessor> assessed(Map<String, List<ReducedPoint>> byRange) {
    return byRange.entrySet().parallelStream()
        .map(e -> assessor(e.getKey(), e.getValue()))
        .toList();
  }

  private RangeAssessor assessor(String range, List<ReducedPoint> there) {
    List<ReducedPoint> all = new ArrayList<>(there);
    run.knees().stream().filter(k -> k.range().equals(range)).forEach(all::add);
    return new RangeAssessor(range, run.soaks().carried(range, all), basis);
  }

  /** The unit's response: its current at any condition (methods.md 11). */
  private UnitResponse response(Collection<RangeAssessor> ranges) {
    UnitResponseBuilder response =
        new UnitResponseBuilder(points, run.imported(), basis, run.batch());
    ranges.forEach(response::add);
    return response.response();
  }

  /** Adds the results of each range; gives those of neighbouring ranges. */
  private List<Result> ranges(UnitResponse response) {
    Map<String, List<Result>> found = new LinkedHashMap<>();
    ranges.forEach((range, a) -> found.put(range, besideSuspects(range, a.results())));
    RangeTrials again = new RangeTrials(ranges, basis, points);
    List<List<Result>> groups = tried("ranges", again.points(), again.measured(found), again);
    Map<String, List<Result>> own = again.byRange(groups);
    ranges.forEach((range, assessor) -> range(range, own.get(range), response));
    return again.ofPairs(groups);
  }

  private void range(String range, List<Result> own, UnitResponse response) {
    RangeAssessor assessor = ranges.get(range);
    results.addAll(own);
    List<Result> references = references(range, assessor, response);
    (run.wild().anyIn(range)
            ? ImportedOutlierScreening.beside(references, withSuspects(range))
            : references)
        .stream().map(this::triedByBudget).forEach(results::add);
    loads.addAll(assessor.loads());
    assessor.temperatures().ifPresent(temperatures::add);
  }

  private List<Result> besideSuspects(String range, List<Result> found) {
    if (!run.wild().anyIn(range)) {
      return found;
    }
    return ImportedOutlierScreening.beside(found, assessorWithSuspects(range).results());
  }

  private RangeAssessor assessorWithSuspects(String range) {
    List<ReducedPoint> all =
        run.withSuspects().stream().filter(p -> p.range().equals(range)).toList();
    return new RangeAssessor(range, run.soaks().carried(range, all), basis);
  }

  /** The current at the reference condition with the excluded readings included. */
  private List<Result> withSuspects(String range) {
    RangeAssessor assessor = assessorWithSuspects(range);
    UnitResponseBuilder response =
        new UnitResponseBuilder(run.withSuspects(), run.imported(), basis, run.batch());
    response.add(assessor);
    return references(range, assessor, response.response());
  }

  private List<Result> risks(List<Result> judged) {
    BatchRisks risks = new BatchRisks(run.batch());
    return judged.stream().map(risks::with).toList();
  }

  private DatasheetLimitJudge judging(Datasheet sheet, List<Result> found, UnitResponse response) {
    return new DatasheetLimitJudge(
        sheet,
        found,
        Optional.of(response),
        MeasuredConditionsFinder.ranges(run.summary(), points, loads, found),
        run.counts().early().map(EarlyEnd::reason));
  }

  /**
   * The current at the reference condition, at each temperature, and its error (methods.md 3.7).
   */
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

  /** (quantity, range, at) is unique: the first of two is kept. */
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
    notes.addAll(run.wild().notes(run.withSuspects()));
    for (ReducedPoint p : points) {
      p.notes().forEach(n -> notes.add("%s (%s): %s".formatted(p.name(), p.point().key(), n)));
    }
    run.thermometer().ifPresent(notes::add);
  }
}
