// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import millrace.analysis.linearity.LoadLinearity;
import millrace.analysis.linearity.SettableSourceLinearity;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadResults;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.response.ResponseValidityDomain;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.temperature.TemperatureResults;
import millrace.analysis.temperature.TemperatureStudy;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.datasheet.Datasheet;
import millrace.evidence.PointKind;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;

/** The results of one range: load behaviour at each temperature, temperature behaviour. */
public final class RangeAssessor {
  /** Distance from the reference that counts as equal: a ratio, or in V or ohm below 1. */
  private static final double AT_REFERENCE = 0.01;

  private final String range;
  private final List<ReducedPoint> points;
  private final List<ReducedPoint> knees;
  private final List<ReducedPoint> usual;
  private final JudgementBasis basis;
  private final RangeLoadCurves curves;
  private final RangeLayout layout;
  private final LoadSweepRequest asked;
  private final List<LoadSweepStudy> loads = new ArrayList<>();
  private final List<Result> results = new ArrayList<>();
  private final Map<Integer, Double> anchorsDegC = new LinkedHashMap<>();
  private Optional<RangeTemperatureStudy> temperatures = Optional.empty();

  /** How many results there are after each sweep. */
  private final List<Integer> afterSweeps = new ArrayList<>();

  private final Optional<RangeAssessor> measured;

  /** In a trial, of each result whether nothing is asked of it. */
  private final boolean[] over;

  /** Assesses points of one range, including those for the knee only. */
  public RangeAssessor(String range, List<ReducedPoint> all, JudgementBasis basis) {
    this(range, all, basis, Optional.empty(), true);
  }

  /**
   * The same from points of a trial: conductances are stated at the measured temperatures, and the
   * decisions on a sweep are kept.
   *
   * @param moved the points
   * @param study whether the study over temperature is asked for
   * @param resultsOver for each result whether nothing is asked of it; the measured one may then
   *     stand in its place
   */
  public RangeAssessor again(List<ReducedPoint> moved, boolean study, boolean... resultsOver) {
    return new RangeAssessor(range, moved, basis, Optional.of(this), study, resultsOver);
  }

  private RangeAssessor(
      String range,
      List<ReducedPoint> all,
      JudgementBasis basis,
      Optional<RangeAssessor> measured,
      boolean study,
      boolean... over) {
    this.range = range;
    this.measured = measured;
    this.over = over;
    this.curves = measured.map(m -> m.curves.kept()).orElseGet(RangeLoadCurves::fresh);
    measured.ifPresent(m -> anchorsDegC.putAll(m.anchorsDegC));
    this.points = ofKind(all, false);
    this.knees = ofKind(all, true);
    this.basis = basis;
    this.layout = measured.map(m -> m.layout).orElseGet(() -> RangeLayout.of(points));
    this.asked = measured.map(m -> m.asked).orElseGet(this::asked);
    this.usual = layout.usual(points);
    int loadResults = measured.map(m -> m.afterSweep(m.afterSweeps.size() - 1)).orElse(0);
    if (!standsIn(0, loadResults)) {
      sweeps();
    }
    if (study || !standsIn(loadResults, over.length)) {
      temperatures(references());
    }
  }

  private int afterSweep(int place) {
    return place < 0 ? 0 : afterSweeps.get(place);
  }

  /** Whether nothing is asked of measured results, which then stand where a trial's would. */
  private boolean standsIn(int from, int to) {
    if (from == to || over.length != measured.map(m -> m.results.size()).orElse(0)) {
      return false;
    }
    for (int i = from; i < to; i++) {
      if (!over[i]) {
        return false;
      }
    }
    results.addAll(measured.orElseThrow().results.subList(from, to));
    return true;
  }

  private static List<ReducedPoint> ofKind(List<ReducedPoint> all, boolean knee) {
    List<ReducedPoint> some = new ArrayList<>(all.size());
    for (ReducedPoint p : all) {
      if (knee == (p.point().kind() == PointKind.KNEE)) {
        some.add(p);
      }
    }
    return some;
  }

  private Map<Integer, Estimate> references() {
    Map<Integer, Estimate> references = new LinkedHashMap<>();
    Map<Integer, List<ReducedPoint>> stays = layout.stays(points);
    Map<Integer, LoadCurve> found = new HashMap<>();
    stays.forEach((stay, there) -> curve(stay, there).ifPresent(c -> found.put(stay, c)));
    boolean curved = 2 * found.values().stream().filter(LoadCurve::curved).count() > found.size();
    stays.forEach(
        (stay, there) ->
            references.put(
                stay,
                found.containsKey(stay)
                    ? found.get(stay).referenceCurrentA(curved)
                    : nearest(there, question(there))));
    return references;
  }

  private LoadSweepRequest question(List<ReducedPoint> there) {
    LoadSweepRequest question = asked.withTemperature(rounded(TemperatureStays.meanDegC(there)));
    return basis.datasheet().isPresent()
        ? question
        : question.withReference(
            LoadSweepRequest.Reference.lowest(MergedTemperatureStays.loadPoints(there)));
  }

  /** What is asked of each sweep; without a datasheet the reference is that of each. */
  private LoadSweepRequest asked() {
    LoadSweepRequest question =
        LoadSweepRequest.of(range, points.get(0).nominalA(), basis.coverage())
            .withFixture(fixtureS(basis));
    if (basis.datasheet().isEmpty()) {
      return question;
    }
    Datasheet sheet = basis.datasheet().get();
    return question
        .withCompliance(
            sheet
                .complianceVoltageV(range)
                .map(OptionalDouble::of)
                .orElseGet(OptionalDouble::empty),
            sheet.compliance().criterion(),
            sheet.compliance().reference() == Datasheet.Reference.LINE)
        .withReference(
            sheet
                .range(range)
                .flatMap(Datasheet.Range::referenceLoadOhm)
                .map(LoadSweepRequest.Reference::atOhm)
                .orElse(LoadSweepRequest.Reference.SHORT));
  }

  private static Estimate fixtureS(JudgementBasis basis) {
    return basis
        .bench()
        .flatMap(b -> b.wiring().fixtureS())
        .map(
            f ->
                Estimate.exact(f.valueS())
                    .with(
                        ErrorSource.normal(
                            "fixture conductance",
                            ErrorSource.RUN,
                            "fixture",
                            f.standardUncertaintyS(),
                            "S"),
                        1))
        .orElse(Estimate.exact(0));
  }

  /** Rounds to 0.01 K, for a short condition. */
  private static OptionalDouble rounded(OptionalDouble degC) {
    return degC.isPresent()
        ? OptionalDouble.of(Math.round(degC.getAsDouble() * 100) / 100.0)
        : degC;
  }

  /** The sweep of one stay. */
  private Optional<LoadCurve> curve(int stay, List<ReducedPoint> there) {
    LoadSweepRequest question = question(there);
    Optional<LoadCurve> curve =
        curves.of(MergedTemperatureStays.aligned(there, knees, question, curves), question);
    curve.ifPresent(
        c ->
            loads.add(
                new LoadSweepStudy(
                    range,
                    stay,
                    TemperatureStays.meanDegC(there),
                    there.get(0).point().conditions().supplyV(),
                    c)));
    return curve;
  }

  /** The value without a line: the mean of the points at the load nearest to the reference. */
  private static Estimate nearest(List<ReducedPoint> there, LoadSweepRequest question) {
    double wanted = question.reference().value();
    boolean volts = question.reference().isVoltage();
    double least = Double.POSITIVE_INFINITY;
    for (ReducedPoint p : there) {
      least = Math.min(least, Math.abs(position(p, volts) - wanted));
    }
    double most = least + 1e-9 * Math.max(1, Math.abs(wanted));
    return Estimate.mean(
        there.stream()
            .filter(p -> Math.abs(position(p, volts) - wanted) <= most)
            .map(ReducedPoint::currentA)
            .toList());
  }

  private static double position(ReducedPoint p, boolean volts) {
    return volts ? Math.abs(p.voltageV().value()) : p.point().conditions().loadOhm().orElse(0);
  }

  /** Load results, one set per temperature: stays at one temperature are seen together. */
  private void sweeps() {
    boolean swept = layout.swept();
    List<RangeLoadSweep> sweeps =
        layout.temperatures(points).stream()
            .map(there -> RangeLoadSweep.of(there, knees, question(there), curves))
            .toList();
    for (int i = 0; i < sweeps.size(); i++) {
      int place = i;
      int from = measured.map(m -> m.afterSweep(place - 1)).orElse(0);
      int to = measured.map(m -> m.afterSweep(place)).orElse(0);
      if (!standsIn(from, to)) {
        sweep(i, sweeps, swept);
      }
      afterSweeps.add(results.size());
    }
  }

  private void sweep(int place, List<RangeLoadSweep> sweeps, boolean swept) {
    RangeLoadSweep sweep = sweeps.get(place);
    LoadSweepRequest question = sweep.question();
    if (sweep.curve().isPresent()) {
      LoadCurve curve = sweep.curve().get();
      Estimate fixtureS = asked(place, sweeps).fixtureS();
      results.addAll(LoadResults.of(curve.withFixture(fixtureS)));
      results.addAll(LoadLinearity.of(curve));
    } else if (swept || place == 0) {
      unswept(sweep.points(), swept ? question : question.withTemperature(OptionalDouble.empty()));
    }
    if (layout.settable()) {
      settable(sweep.there(), question);
    }
  }

  private LoadSweepRequest asked(int place, List<RangeLoadSweep> sweeps) {
    RangeLoadSweep sweep = sweeps.get(place);
    double anchorDegC =
        anchorsDegC.computeIfAbsent(
            place, i -> sweep.temperature().map(Estimate::value).orElse(0.0));
    return sweep.asked(sweeps, anchorDegC);
  }

  /**
   * The reason that a range without a line has no load results; given once if no load was swept at
   * all.
   */
  private void unswept(List<LoadPoint> sweep, LoadSweepRequest question) {
    results.addAll(LoadResults.of(sweep, question));
    if (points.stream().allMatch(p -> p.point().conditions().setA().isEmpty())) {
      results.addAll(LoadLinearity.of(sweep, question));
    }
  }

  /** The current of a settable source as a function of its set value (methods.md 4.2). */
  private void settable(List<ReducedPoint> there, LoadSweepRequest question) {
    Set<Integer> stays = TemperatureStays.byStay(there).keySet();
    List<SettableSourceLinearity.SetPoint> set =
        points.stream()
            .filter(p -> stays.contains(p.stay()) && p.point().conditions().setA().isPresent())
            .map(
                p ->
                    new SettableSourceLinearity.SetPoint(
                        p.name(), p.point().conditions().setA().getAsDouble(), p.currentA()))
            .toList();
    if (set.stream().mapToDouble(SettableSourceLinearity.SetPoint::setA).distinct().count() > 1) {
      ResultConditions at = ResultConditions.NONE;
      if (question.temperatureDegC().isPresent()) {
        at = at.with(ResultConditionKey.TEMPERATURE_DEGC, question.temperatureDegC().getAsDouble());
      }
      results.addAll(
          SettableSourceLinearity.of(
              set, new SettableSourceLinearity.Question(range, at, basis.coverage())));
    }
  }

  private void temperatures(Map<Integer, Estimate> references) {
    List<TemperaturePoint> stays = new ArrayList<>();
    layout
        .stays(points)
        .forEach(
            (stay, there) -> {
              List<Estimate> degC = new ArrayList<>(there.size());
              double timeS = 0;
              for (ReducedPoint p : there) {
                p.temperatureDegC().ifPresent(degC::add);
                timeS += p.timeS() / there.size();
              }
              if (!degC.isEmpty()) {
                stays.add(
                    new TemperaturePoint(
                        stay,
                        there
                            .get(0)
                            .point()
                            .conditions()
                            .temperatureDegC()
                            .orElse(degC.get(0).value()),
                        Estimate.mean(degC),
                        references.get(stay),
                        timeS));
              }
            });
    if (stays.isEmpty()) {
      return;
    }
    TemperatureStudy study = TemperatureStudy.of(stays, basis.referenceDegC());
    temperatures = Optional.of(new RangeTemperatureStudy(range, study, oneLoadV()));
    results.addAll(TemperatureResults.of(study, range, basis.coverage(), List.of()));
  }

  private OptionalDouble oneLoadV() {
    return layout.oneLoad()
        ? usual.stream().mapToDouble(p -> Math.abs(p.voltageV().value())).average()
        : OptionalDouble.empty();
  }

  /** The question to the range's response: the reference load and the criterion of the knee. */
  public LoadSweepRequest question() {
    return question(usual);
  }

  /** The points at the set value that most of them share, at any supply voltage. */
  public List<ReducedPoint> atUsualSetting() {
    OptionalDouble set = usual.get(0).point().conditions().setA();
    return points.stream().filter(p -> p.point().conditions().setA().equals(set)).toList();
  }

  /** Points for the knee only. */
  public List<ReducedPoint> knees() {
    return knees;
  }

  /** All points that were added. */
  public List<ReducedPoint> all() {
    return Stream.concat(points.stream(), knees.stream()).toList();
  }

  /** The currents at the reference itself, near T_ref, A. */
  public List<Estimate> atReferenceA() {
    LoadSweepRequest.Reference reference = question().reference();
    return usual.stream()
        .filter(p -> !p.unsteady() && nearReference(p))
        .filter(
            p ->
                Math.abs(position(p, reference.isVoltage()) - reference.value())
                    <= AT_REFERENCE * Math.max(1, reference.value()))
        .map(ReducedPoint::currentA)
        .toList();
  }

  private boolean nearReference(ReducedPoint p) {
    return p.temperatureDegC()
        .map(t -> Math.abs(t.value() - basis.referenceDegC()) <= ResponseValidityDomain.SLACK_K)
        .orElse(true);
  }

  /** The temperatures that the range was measured at, degC; T_ref itself if one is near. */
  public List<OptionalDouble> temperaturesDegC() {
    return layout.temperatures(points).stream()
        .map(there -> rounded(TemperatureStays.meanDegC(there)))
        .map(this::orReference)
        .distinct()
        .toList();
  }

  private OptionalDouble orReference(OptionalDouble degC) {
    boolean near =
        degC.isPresent()
            && Math.abs(degC.getAsDouble() - basis.referenceDegC())
                <= MergedTemperatureStays.NEAR_K;
    return near ? OptionalDouble.of(basis.referenceDegC()) : degC;
  }

  /** The results, not judged. */
  public List<Result> results() {
    return results;
  }

  /** The load sweeps, by stay. */
  public List<LoadSweepStudy> loads() {
    return loads;
  }

  /** The temperature study of the range; empty with too few temperatures. */
  public Optional<RangeTemperatureStudy> temperatures() {
    return temperatures;
  }
}
