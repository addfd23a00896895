package millrace.assessment;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import millrace.analysis.response.Coefficient;
import millrace.analysis.response.Coefficients;
import millrace.analysis.response.Domain;
import millrace.analysis.response.Foreign;
import millrace.analysis.response.RangeData;
import millrace.analysis.response.ResponsePoint;
import millrace.analysis.response.ResponseSettings;
import millrace.analysis.response.ResponseSettings.Taken;
import millrace.analysis.response.UnitResponse;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.Assessment.LoadStudy;
import millrace.logbook.JudgedValue;

/**
 * What a run tells of its unit at any condition (measurement.md 11): points with a temperature,
 * their visits, and where each visit's current still held.
 */
final class ResponseOf {
  /** A temperature coefficient is a run's own from two temperatures on, as far apart as this, K. */
  private static final double APART_K = 1;

  private final Basis basis;
  private final List<LoadStudy> loads;
  private final List<JudgedValue> batch;

  /**
   * What a run tells.
   *
   * @param batch what the other units of its batch were judged by; may be empty
   */
  ResponseOf(Basis basis, List<LoadStudy> loads, List<JudgedValue> batch) {
    this.basis = basis;
    this.loads = loads;
    this.batch = batch;
  }

  UnitResponse of(List<ReducedPoint> points) {
    List<RangeData> data = new ArrayList<>();
    Map<String, List<Taken>> taken = new LinkedHashMap<>();
    Stays.byRange(points)
        .forEach(
            (range, all) -> {
              List<ReducedPoint> there = all.stream().filter(ResponseOf::counts).toList();
              if (!there.isEmpty()) {
                data.add(data(range, there));
                if (oneTemperature(there)) {
                  taken.put(range, fromElsewhere(range));
                }
              }
            });
    return UnitResponse.of(data, new ResponseSettings(basis.referenceDegC(), taken));
  }

  /** At its nominal set value, with a temperature, and steady. */
  private static boolean counts(ReducedPoint p) {
    OptionalDouble set = p.point().conditions().setA();
    boolean nominal = set.isEmpty() || Math.abs(set.getAsDouble() / p.nominalA() - 1) < SET_SHARE;
    return p.temperatureDegC().isPresent() && nominal && !p.unsteady();
  }

  /** How near to nominal a settable source must be set. */
  private static final double SET_SHARE = 1e-6;

  private RangeData data(String range, List<ReducedPoint> there) {
    Map<Integer, RangeData.Edge> edges = new LinkedHashMap<>();
    loads.stream()
        .filter(l -> l.range().equals(range))
        .forEach(l -> edges.put(l.stay(), RangeData.Edge.of(l.curve(), basis.coverage())));
    boolean timed = there.stream().mapToDouble(ReducedPoint::timeS).distinct().count() > 1;
    return new RangeData(
        range,
        there.get(0).nominalA(),
        there.stream().map(p -> point(p, timed)).toList(),
        edges,
        true);
  }

  private static ResponsePoint point(ReducedPoint p, boolean timed) {
    return new ResponsePoint(
        p.name(),
        p.stay(),
        timed ? OptionalDouble.of(p.timeS()) : OptionalDouble.empty(),
        p.currentA(),
        p.voltageV(),
        p.temperatureDegC().orElseThrow(),
        p.point().conditions().supplyV());
  }

  private static boolean oneTemperature(List<ReducedPoint> there) {
    double[] degC =
        there.stream()
            .flatMap(p -> p.temperatureDegC().stream())
            .mapToDouble(Estimate::value)
            .sorted()
            .toArray();
    return degC[degC.length - 1] - degC[0] <= APART_K;
  }

  /** The type run first, then the batch, then the design (measurement.md 11.6). */
  private List<Taken> fromElsewhere(String range) {
    Stream<Taken> type =
        basis.typeRun().stream().flatMap(t -> t.taken(basis.datasheet(), range).stream());
    Optional<Taken> design =
        basis
            .datasheet()
            .flatMap(
                s ->
                    DesignCoefficients.of(s, range)
                        .map(
                            c ->
                                new Taken(
                                    new Foreign(
                                        Foreign.Kind.DESIGN,
                                        "the worst case of the parts of " + s.name()),
                                    c)));
    return Stream.of(type, batch(range).stream(), design.stream()).flatMap(s -> s).toList();
  }

  /** The tempcos of the batch's other units: their mean, with their spread for this unit's. */
  private Optional<Taken> batch(String range) {
    return TempcoSpread.among(batch, range)
        .map(
            spread ->
                new Taken(
                    new Foreign(
                        Foreign.Kind.BATCH, "the batch, %s other units".formatted(spread.units())),
                    Coefficients.independent(
                        List.of(Coefficient.A),
                        new double[] {spread.meanPerK()},
                        new double[] {spread.ofOneMorePerK()},
                        1,
                        Domain.everywhere())));
  }
}
