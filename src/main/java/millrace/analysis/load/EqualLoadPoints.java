// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ErrorDistribution;

/**
 * The points of one load, up and down and repeated, as one.
 *
 * @param points in the order of time
 * @param v mean voltage, V
 * @param i mean current, A
 * @param uV standard uncertainty of v, what points share included, V
 * @param noiseV point-wise part of uV, V
 * @param uI point-wise standard uncertainty of i, not below the scatter of the repeats, A
 * @param degrees degrees of freedom of uI: those of the repeats where their scatter makes it, else
 *     infinite
 * @param unsteady true if any of its points scatters abnormally
 * @param torn true if its repeats differ by more than three times their uncertainty; its points
 *     then carry the difference
 */
record EqualLoadPoints(
    List<LoadPoint> points,
    double v,
    double i,
    double uV,
    double noiseV,
    double uI,
    double degrees,
    boolean unsteady,
    boolean torn) {
  private static final double SAME_LOAD = 1e-9;

  /** The sweep in rising load (voltage where no load is given). */
  static List<EqualLoadPoints> of(List<LoadPoint> points) {
    boolean given = points.stream().allMatch(p -> p.loadOhm().isPresent());
    List<LoadPoint> sorted = new ArrayList<>(points);
    sorted.sort(
        Comparator.comparingDouble((LoadPoint p) -> given ? ohm(p) : magnitude(p))
            .thenComparing(LoadPoint::kneeOnly)
            .thenComparingDouble(LoadPoint::timeS)
            .thenComparing(LoadPoint::key));
    List<List<LoadPoint>> loads = new ArrayList<>();
    for (LoadPoint p : sorted) {
      List<LoadPoint> last = loads.isEmpty() ? List.of() : loads.get(loads.size() - 1);
      if (!last.isEmpty() && same(last.get(0), p, given)) {
        last.add(p);
      } else {
        loads.add(new ArrayList<>(List.of(p)));
      }
    }
    return loads.stream().map(l -> together(l, Optional.empty())).toList();
  }

  /**
   * The same loads with their points perturbed: the same points are together, the same loads torn.
   *
   * @param moved the points
   * @param decided the loads
   * @param places for each load, where its points stand among the moved ones
   */
  static List<EqualLoadPoints> again(
      List<LoadPoint> moved, List<EqualLoadPoints> decided, int[][] places) {
    List<EqualLoadPoints> groups = new ArrayList<>(decided.size());
    for (int g = 0; g < places.length; g++) {
      List<LoadPoint> here = new ArrayList<>(places[g].length);
      for (int at : places[g]) {
        here.add(moved.get(at));
      }
      groups.add(together(here, Optional.of(decided.get(g).torn)));
    }
    return groups;
  }

  /**
   * Where the points of each load stand among perturbed ones, by their keys.
   *
   * @return empty where a point is missing
   */
  static Optional<int[][]> places(List<LoadPoint> moved, List<EqualLoadPoints> decided) {
    Map<String, Integer> byKey = new HashMap<>(2 * moved.size());
    for (int i = 0; i < moved.size(); i++) {
      byKey.put(moved.get(i).key(), i);
    }
    int[][] places = new int[decided.size()][];
    for (int g = 0; g < places.length; g++) {
      List<LoadPoint> each = decided.get(g).points();
      places[g] = new int[each.size()];
      for (int k = 0; k < each.size(); k++) {
        places[g][k] = byKey.getOrDefault(each.get(k).key(), -1);
        if (places[g][k] < 0) {
          return Optional.empty();
        }
      }
    }
    return Optional.of(places);
  }

  private static double mean(List<LoadPoint> points, Function<LoadPoint, Estimate> of) {
    double first = of.apply(points.get(0)).value();
    double sum = 0;
    for (LoadPoint p : points) {
      sum += of.apply(p).value() - first;
    }
    return first + sum / points.size();
  }

  private static double ohm(LoadPoint p) {
    return p.loadOhm().orElse(0);
  }

  private static double magnitude(LoadPoint p) {
    return Math.abs(p.voltageV().value());
  }

  private static boolean same(LoadPoint a, LoadPoint b, boolean given) {
    double x = given ? ohm(a) : magnitude(a);
    double y = given ? ohm(b) : magnitude(b);
    return a.kneeOnly() == b.kneeOnly() && Math.abs(x - y) <= SAME_LOAD * Math.max(x, y);
  }

  private static EqualLoadPoints together(List<LoadPoint> points, Optional<Boolean> decided) {
    int n = points.size();
    if (n == 1) {
      return single(points.get(0));
    }
    double v = mean(points, LoadPoint::voltageV);
    double i = mean(points, LoadPoint::currentA);
    double stated = 0;
    double squares = 0;
    for (LoadPoint p : points) {
      double u = p.currentA().pointUncertainty();
      double off = p.currentA().value() - i;
      stated += u * u;
      squares += off * off;
    }
    double scatter = Math.sqrt(squares / (n - 1) / n);
    double known = Math.sqrt(stated) / n;
    double uI = Math.max(known, scatter);
    boolean torn = decided.orElse(known > 0 && scatter > 3 * known);
    boolean unsteady = false;
    for (LoadPoint p : points) {
      unsteady |= p.unsteady();
    }
    Estimate meanV = meanOf(points, LoadPoint::voltageV);
    return new EqualLoadPoints(
        torn ? widened(points, scatter * Math.sqrt(n)) : List.copyOf(points),
        v,
        i,
        meanV.standardUncertainty(),
        meanV.pointUncertainty(),
        uI,
        scatter > known ? n - 1.0 : Double.POSITIVE_INFINITY,
        unsteady,
        torn);
  }

  /** One point is its own mean; it differs from no other. */
  private static EqualLoadPoints single(LoadPoint p) {
    return new EqualLoadPoints(
        List.of(p),
        p.voltageV().value(),
        p.currentA().value(),
        p.voltageV().standardUncertainty(),
        p.voltageV().pointUncertainty(),
        p.currentA().pointUncertainty(),
        Double.POSITIVE_INFINITY,
        p.unsteady(),
        false);
  }

  private static List<LoadPoint> widened(List<LoadPoint> points, double scatterA) {
    OptionalDouble degrees = OptionalDouble.of(points.size() - 1.0);
    List<LoadPoint> wider = new ArrayList<>();
    for (LoadPoint p : points) {
      ErrorSource differs =
          new ErrorSource(
              "difference of repeats",
              ErrorSource.POINT,
              p.key(),
              ErrorDistribution.NORMAL,
              degrees,
              scatterA,
              "A");
      wider.add(p.withCurrent(p.currentA().with(differs, 1)));
    }
    return wider;
  }

  /** The points of several loads. */
  static List<LoadPoint> flat(List<EqualLoadPoints> loads) {
    List<LoadPoint> flat = new ArrayList<>(2 * loads.size());
    for (EqualLoadPoints load : loads) {
      flat.addAll(load.points());
    }
    return flat;
  }

  /** The key of its first point, which no other load has. */
  String name() {
    return points.get(0).key();
  }

  /** Whether it serves for the knee alone and not for the line. */
  boolean kneeOnly() {
    return points.get(0).kneeOnly();
  }

  /** The mean current with its errors, A. */
  Estimate mean() {
    return meanOf(points, LoadPoint::currentA);
  }

  /** The mean voltage with its errors, V. */
  Estimate meanV() {
    return meanOf(points, LoadPoint::voltageV);
  }

  private static Estimate meanOf(List<LoadPoint> points, Function<LoadPoint, Estimate> of) {
    if (points.size() == 1) {
      return of.apply(points.get(0));
    }
    List<Estimate> all = new ArrayList<>(points.size());
    for (LoadPoint p : points) {
      all.add(of.apply(p));
    }
    return Estimate.mean(all);
  }

  double magnitudeV() {
    return Math.abs(v);
  }
}
