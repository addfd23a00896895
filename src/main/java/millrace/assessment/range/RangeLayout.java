// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.evidence.PointConditions;

/**
 * Which points of a range belong together. Conditions decide it, so trials keep what the readings
 * gave. Places are those among the points that are not for the knee only. Immutable.
 */
final class RangeLayout {
  private final List<Integer> usual;
  private final Map<Integer, List<Integer>> stays = new LinkedHashMap<>();
  private final List<List<Integer>> temperatures = new ArrayList<>();
  private final boolean swept;
  private final boolean settable;
  private final boolean oneLoad;

  private RangeLayout(List<ReducedPoint> points) {
    IdentityHashMap<ReducedPoint, Integer> places = new IdentityHashMap<>();
    points.forEach(p -> places.put(p, places.size()));
    List<ReducedPoint> there = usualSupply(points);
    this.usual = at(there, places);
    TemperatureStays.byStay(there).forEach((stay, of) -> stays.put(stay, at(of, places)));
    MergedTemperatureStays.of(there).forEach(of -> temperatures.add(at(of, places)));
    this.swept = loadsOrVolts(there) > 1;
    this.settable = points.stream().anyMatch(p -> p.point().conditions().setA().isPresent());
    this.oneLoad =
        there.stream().map(p -> p.point().conditions().loadOhm()).distinct().count() == 1
            && there.get(0).point().conditions().loadOhm().isPresent();
  }

  /**
   * Decides it.
   *
   * @param points the points that are not for the knee only
   */
  static RangeLayout of(List<ReducedPoint> points) {
    return new RangeLayout(points);
  }

  private static List<Integer> at(
      List<ReducedPoint> points, IdentityHashMap<ReducedPoint, Integer> places) {
    return points.stream().map(places::get).toList();
  }

  /** The points at the supply voltage and set value that most of them share. */
  private static List<ReducedPoint> usualSupply(List<ReducedPoint> points) {
    Map<List<OptionalDouble>, List<ReducedPoint>> alike = new LinkedHashMap<>();
    for (ReducedPoint p : points) {
      PointConditions at = p.point().conditions();
      alike.computeIfAbsent(List.of(at.supplyV(), at.setA()), k -> new ArrayList<>()).add(p);
    }
    return alike.values().stream()
        .max(
            Comparator.<List<ReducedPoint>>comparingInt(List::size)
                .thenComparingDouble(l -> -offNominal(l.get(0))))
        .orElse(List.of());
  }

  /** Distance of a settable source's set value from the nominal current, A. */
  private static double offNominal(ReducedPoint p) {
    OptionalDouble set = p.point().conditions().setA();
    return set.isPresent() ? Math.abs(set.getAsDouble() - p.nominalA()) : 0;
  }

  private static long loadsOrVolts(List<ReducedPoint> points) {
    return points.stream()
        .map(
            p ->
                p.point().conditions().loadOhm().isPresent()
                    ? p.point().conditions().loadOhm()
                    : OptionalDouble.of(p.voltageV().value()))
        .distinct()
        .count();
  }

  private static List<ReducedPoint> picked(List<ReducedPoint> points, List<Integer> places) {
    List<ReducedPoint> picked = new ArrayList<>(places.size());
    for (int at : places) {
      picked.add(points.get(at));
    }
    return picked;
  }

  /** Those at the supply voltage and set value that most share. */
  List<ReducedPoint> usual(List<ReducedPoint> points) {
    return picked(points, usual);
  }

  /** These by stay. */
  Map<Integer, List<ReducedPoint>> stays(List<ReducedPoint> points) {
    Map<Integer, List<ReducedPoint>> all = new LinkedHashMap<>();
    stays.forEach((stay, at) -> all.put(stay, picked(points, at)));
    return all;
  }

  /** These by temperature, in the order in which temperatures first occur. */
  List<List<ReducedPoint>> temperatures(List<ReducedPoint> points) {
    List<List<ReducedPoint>> all = new ArrayList<>(temperatures.size());
    temperatures.forEach(at -> all.add(picked(points, at)));
    return all;
  }

  /** Whether these are at more than one load. */
  boolean swept() {
    return swept;
  }

  /** Whether these are at one load alone, and which is known. */
  boolean oneLoad() {
    return oneLoad;
  }

  /** Whether a point was taken at a set value of a settable source. */
  boolean settable() {
    return settable;
  }
}
