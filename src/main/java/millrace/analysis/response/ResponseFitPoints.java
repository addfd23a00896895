// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * The points of a range that a response uses, as numbers (methods.md 11.2): those up to the edge of
 * their visit, at least the three lowest.
 *
 * @param data what was measured
 * @param points those that are used
 * @param visits in the order of time, each with the places of its points
 * @param places t, v, h and s of each point
 * @param scaleV V_s, the largest voltage used, V
 * @param supplyV the usual supply voltage; empty where none was set
 * @param middleS the middle of the run, s; empty where no time is known
 */
record ResponseFitPoints(
    RangeMeasurements data,
    List<ResponsePoint> points,
    List<Visit> visits,
    List<ResponseTerms.Place> places,
    double scaleV,
    OptionalDouble supplyV,
    OptionalDouble middleS) {
  /** Temperatures within this distance count as equal, K (methods.md 11.2). */
  static final double SAME_K = 0.5;

  private static final int LEAST_LOADS = 3;
  private static final double ARITHMETIC = 1e-9;
  private static final double HOUR_S = 3600;

  /** Voltages within this share of one another belong to one load. */
  static final double SAME_LOAD = 0.01;

  /** Voltages within this share of V_s count as equal. */
  private static final double SAME_RATIO = 1e-3;

  /**
   * A visit.
   *
   * @param number which
   * @param t mean temperature, from T_ref, K
   * @param members places of its points
   * @param slope of y over V by unweighted least squares; empty with one voltage, 1/V
   */
  @SuppressWarnings("ArrayRecordComponent") // read only in this package, never compared
  record Visit(int number, double t, int[] members, OptionalDouble slope) {}

  static ResponseFitPoints of(
      RangeMeasurements data, double referenceDegC, OptionalDouble middleS) {
    List<ResponsePoint> used = LongRunPointMerging.of(used(data));
    OptionalDouble supply = usual(used);
    boolean swept =
        used.stream().map(ResponsePoint::supplyV).filter(OptionalDouble::isPresent).count() > 0;
    List<ResponseTerms.Place> places = new ArrayList<>();
    for (ResponsePoint p : used) {
      double h =
          middleS.isPresent() && p.timeS().isPresent()
              ? (p.timeS().getAsDouble() - middleS.getAsDouble()) / HOUR_S
              : 0;
      double s =
          swept && p.supplyV().isPresent() ? p.supplyV().getAsDouble() - supply.orElse(0) : 0;
      places.add(
          new ResponseTerms.Place(
              p.temperatureDegC().value() - referenceDegC, data.volts(p), h, s));
    }
    double scale = places.stream().mapToDouble(p -> Math.abs(p.v())).max().orElse(0);
    ResponseFitPoints bare =
        new ResponseFitPoints(
            data, used, List.of(), places, Math.max(scale, 1e-6), supply, middleS);
    return new ResponseFitPoints(data, used, bare.grouped(), places, bare.scaleV, supply, middleS);
  }

  /** The points up to the edge of each visit, and always the three lowest loads. */
  private static List<ResponsePoint> used(RangeMeasurements data) {
    Map<Integer, List<ResponsePoint>> visits = new LinkedHashMap<>();
    data.points().forEach(p -> visits.computeIfAbsent(p.visit(), v -> new ArrayList<>()).add(p));
    List<ResponsePoint> used = new ArrayList<>();
    for (Map.Entry<Integer, List<ResponsePoint>> visit : visits.entrySet()) {
      if (RangeMeasurements.Edge.NO_PLATEAU.equals(data.edges().get(visit.getKey()))) {
        continue;
      }
      List<ResponsePoint> inside =
          upTo(visit.getValue(), edge(data, visit.getKey(), visit.getValue()));
      used.addAll(upTo(inside, SoftKneeOnset.lastV(inside, data)));
    }
    return used;
  }

  private static List<ResponsePoint> upTo(List<ResponsePoint> points, double volts) {
    double most = volts * (1 + ARITHMETIC) + ARITHMETIC;
    return points.stream().filter(p -> Math.abs(p.voltageV().value()) <= most).toList();
  }

  private static double edge(RangeMeasurements data, int visit, List<ResponsePoint> points) {
    RangeMeasurements.Edge stated = data.edges().get(visit);
    if (stated == null) {
      return Double.POSITIVE_INFINITY;
    }
    double[] sorted =
        points.stream().mapToDouble(p -> Math.abs(p.voltageV().value())).sorted().toArray();
    double third = sorted[0];
    for (int i = 1, loads = 1; i < sorted.length && loads < LEAST_LOADS; i++) {
      loads += sorted[i] - third > SAME_LOAD * sorted[i] ? 1 : 0;
      third = sorted[i];
    }
    return Math.max(stated.upToV(), third);
  }

  /** The supply voltage that most points share. */
  private static OptionalDouble usual(List<ResponsePoint> points) {
    Map<Double, Integer> counts = new LinkedHashMap<>();
    points.forEach(p -> p.supplyV().ifPresent(s -> counts.merge(s, 1, Integer::sum)));
    return counts.entrySet().stream()
        .max(Comparator.comparingInt(Map.Entry::getValue))
        .map(e -> OptionalDouble.of(e.getKey()))
        .orElseGet(OptionalDouble::empty);
  }

  private List<Visit> grouped() {
    Map<Integer, List<Integer>> members = new LinkedHashMap<>();
    for (int i = 0; i < points.size(); i++) {
      members.computeIfAbsent(points.get(i).visit(), v -> new ArrayList<>()).add(i);
    }
    List<Visit> all = new ArrayList<>();
    members.forEach(
        (number, list) -> {
          int[] at = list.stream().mapToInt(Integer::intValue).toArray();
          double t = list.stream().mapToDouble(i -> places.get(i).t()).average().orElse(0);
          all.add(new Visit(number, t, at, slope(number, at)));
        });
    return all;
  }

  private OptionalDouble slope(int number, int[] members) {
    RangeMeasurements.Edge edge = data.edges().get(number);
    double most = edge == null ? Double.POSITIVE_INFINITY : edge.lineUpToV();
    List<Integer> line = new ArrayList<>();
    for (int i : members) {
      if (Math.abs(places.get(i).v()) <= most * (1 + ARITHMETIC)) {
        line.add(i);
      }
    }
    double low = line.stream().mapToDouble(i -> places.get(i).v()).min().orElse(0);
    double high = line.stream().mapToDouble(i -> places.get(i).v()).max().orElse(0);
    return high - low > SAME_RATIO * scaleV
        ? OptionalDouble.of(slope(line, i -> places.get(i).v()))
        : OptionalDouble.empty();
  }

  /** A coordinate of a point by its place in the list. */
  @FunctionalInterface
  interface Over {
    double of(int point);
  }

  /** Unweighted least-squares slope of y. */
  double slope(List<Integer> which, Over over) {
    double meanX = which.stream().mapToDouble(over::of).average().orElse(0);
    double meanY = which.stream().mapToDouble(this::y).average().orElse(0);
    double xy = 0;
    double xx = 0;
    for (int i : which) {
      xy += (over.of(i) - meanX) * (y(i) - meanY);
      xx += (over.of(i) - meanX) * (over.of(i) - meanX);
    }
    return xx > 0 ? xy / xx : 0;
  }

  /** I/I_N - 1 of a point. */
  double y(int point) {
    return points.get(point).currentA().value() / data.nominalA() - 1;
  }

  /** y with its errors. */
  Estimate error(int point) {
    return data.error(points.get(point));
  }

  /** Temperatures that differ, from T_ref, K, ascending. */
  List<Double> temperatures() {
    return distinct(visits);
  }

  /** Temperatures at which more than one voltage was taken, from T_ref, K, ascending. */
  List<Double> sweptTemperatures() {
    return distinct(visits.stream().filter(v -> v.slope().isPresent()).toList());
  }

  private static List<Double> distinct(List<Visit> visits) {
    List<Double> found = new ArrayList<>();
    visits.stream()
        .mapToDouble(Visit::t)
        .sorted()
        .filter(t -> found.isEmpty() || t - found.get(found.size() - 1) > SAME_K)
        .forEach(found::add);
    return found;
  }

  /** Whether all points have one terminal voltage. */
  boolean oneVoltage() {
    double low = places.stream().mapToDouble(ResponseTerms.Place::v).min().orElse(0);
    double high = places.stream().mapToDouble(ResponseTerms.Place::v).max().orElse(0);
    return high - low <= SAME_RATIO * scaleV;
  }

  /** Whether points differ in time. */
  boolean timed() {
    return places.stream().mapToDouble(ResponseTerms.Place::h).distinct().count() > 1;
  }

  /** Whether the supply voltage was swept. */
  boolean suppliesDiffer() {
    return points.stream().flatMap(p -> p.supplyV().stream().boxed()).distinct().count() > 1;
  }
}
