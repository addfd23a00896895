// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.response;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.response.RangeMeasurements;
import millrace.analysis.response.ResponsePoint;
import millrace.analysis.response.ResponseSettings;
import millrace.analysis.response.ResponseSettings.Taken;
import millrace.analysis.response.UnitResponse;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.design.DesignTempcoCoefficients;
import millrace.assessment.range.KneesDuringSoak;
import millrace.assessment.range.RangeAssessor;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureVisits;
import millrace.logbook.BatchJudgedValue;

/**
 * Builds the response of a unit from the points of a run (methods.md 11.2): visits, the edges given
 * by their load sweeps, and each error by name. Single-threaded while it is filled.
 */
public final class UnitResponseBuilder {
  /** A stated error of the thermometer is constant within a visit. */
  private static final String STATED = "stated, of the temperature";

  /** Least distance of two temperatures for a run's own temperature coefficient, K. */
  private static final double APART_K = 1;

  private final TemperatureVisits visits;
  private final boolean imported;
  private final JudgementBasis basis;
  private final BorrowedCoefficientFinder borrowedCoefficientFinder;
  private final Map<String, List<Taken>> taken = new HashMap<>();
  private final Map<String, RangeMeasurements> ranges = new LinkedHashMap<>();

  /**
   * Starts one.
   *
   * @param points all points of the run that count
   * @param imported true for readings taken elsewhere
   * @param basis the judgement basis of the run
   * @param batch judged values of the other units of its batch; may be empty
   */
  public UnitResponseBuilder(
      List<ReducedPoint> points,
      boolean imported,
      JudgementBasis basis,
      List<BatchJudgedValue> batch) {
    this.visits = new TemperatureVisits(points, imported);
    this.imported = imported;
    this.basis = basis;
    this.borrowedCoefficientFinder = new BorrowedCoefficientFinder(basis, batch);
  }

  /** Adds a range. */
  public void add(RangeAssessor assessor) {
    List<ReducedPoint> points = assessor.atUsualSetting();
    LoadSweepRequest question = assessor.question();
    List<ReducedPoint> good = known(points.stream().filter(p -> !p.unsteady()).toList());
    if (good.isEmpty() || question.nominalA() == 0) {
      return;
    }
    if (oneTemperature(good)) {
      taken.put(question.range(), borrowedCoefficientFinder.of(question.range()));
    }
    boolean known = good.get(0).temperatureDegC().isPresent();
    List<ResponsePoint> all = new ArrayList<>();
    Map<Integer, RangeMeasurements.Edge> edges = new HashMap<>();
    for (List<ReducedPoint> visit : visits.grouped(good)) {
      double most = mostK(visit);
      visit.forEach(p -> all.add(point(p, most)));
      edge(visit, assessor.knees(), question).ifPresent(e -> edges.put(visits.of(visit.get(0)), e));
    }
    ranges.put(
        question.range(),
        new RangeMeasurements(question.range(), question.nominalA(), all, edges, known));
  }

  /** The points with a temperature; all if none has one. */
  private static List<ReducedPoint> known(List<ReducedPoint> points) {
    List<ReducedPoint> known =
        points.stream().filter(p -> p.temperatureDegC().isPresent()).toList();
    return known.isEmpty() ? points : known;
  }

  private Optional<RangeMeasurements.Edge> edge(
      List<ReducedPoint> visit, List<ReducedPoint> knees, LoadSweepRequest question) {
    List<LoadPoint> rest = usualSupply(visit).stream().map(ReducedPoint::loadPoint).toList();
    List<ReducedPoint> own = knees.stream().filter(k -> k.stay() == visit.get(0).stay()).toList();
    List<LoadPoint> sweep = KneesDuringSoak.beside(rest, own, question);
    return LoadCurve.of(sweep, question)
        .map(c -> RangeMeasurements.Edge.of(c, question.coverage()));
  }

  /** The points at the most frequent supply voltage of a visit. */
  private static List<ReducedPoint> usualSupply(List<ReducedPoint> visit) {
    Map<OptionalDouble, List<ReducedPoint>> alike = new LinkedHashMap<>();
    for (ReducedPoint p : visit) {
      alike.computeIfAbsent(p.point().conditions().supplyV(), s -> new ArrayList<>()).add(p);
    }
    return alike.values().stream().max(Comparator.comparingInt(List::size)).orElse(visit);
  }

  private ResponsePoint point(ReducedPoint p, double mostK) {
    return new ResponsePoint(
        p.name(),
        visits.of(p),
        visits.timed() ? OptionalDouble.of(p.timeS()) : OptionalDouble.empty(),
        p.currentA(),
        p.voltageV(),
        temperature(p, mostK),
        p.point().conditions().supplyV());
  }

  private Estimate temperature(ReducedPoint p, double mostK) {
    Estimate degC = p.temperatureDegC().orElse(Estimate.exact(basis.referenceDegC()));
    if (!imported || mostK == 0) {
      return degC;
    }
    ErrorSource visit =
        ErrorSource.normal(
            STATED, ErrorSource.TEMPERATURE_STEP, "visit " + visits.of(p), mostK, "K");
    return Estimate.exact(degC.value()).with(visit, degC.standardUncertainty() / mostK);
  }

  private static double mostK(List<ReducedPoint> visit) {
    return visit.stream()
        .flatMap(p -> p.temperatureDegC().stream())
        .mapToDouble(Estimate::standardUncertainty)
        .max()
        .orElse(0);
  }

  private static boolean oneTemperature(List<ReducedPoint> there) {
    double[] degC =
        there.stream()
            .flatMap(p -> p.temperatureDegC().stream())
            .mapToDouble(Estimate::value)
            .sorted()
            .toArray();
    return degC.length > 0 && degC[degC.length - 1] - degC[0] <= APART_K;
  }

  /** The response of all ranges added. */
  public UnitResponse response() {
    return UnitResponse.of(
        List.copyOf(ranges.values()),
        new ResponseSettings(basis.referenceDegC(), taken, curvatures()));
  }

  /** Standard deviations of b_2 from the parts, by range, 1/K^2. */
  private Map<String, Double> curvatures() {
    return basis.datasheet().map(DesignTempcoCoefficients::curvaturesPerK2).orElse(Map.of());
  }
}
