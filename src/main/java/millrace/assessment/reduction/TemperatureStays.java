// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.analysis.uncertainty.Estimate;

/**
 * Sorts the points of a run into stays at a temperature. On a bench the plan numbers them; for
 * readings taken elsewhere a stay is a series of consecutive points at one temperature.
 */
public final class TemperatureStays {
  /** Largest spread of temperatures within one stay, K. */
  private static final double SAME_K = 1;

  /** Least number of points of a stay for a load sweep. */
  private static final int LEAST_TOGETHER = 3;

  private TemperatureStays() {}

  /**
   * Numbers the stays of imported points in their order: consecutive points at one temperature. If
   * that leaves too few loads per stay, as in a file sorted by load, all points at one temperature
   * form a stay.
   */
  public static List<ReducedPoint> numbered(List<ReducedPoint> points) {
    IdentityHashMap<ReducedPoint, Integer> numbers = new IdentityHashMap<>();
    for (List<ReducedPoint> range : byRange(points).values()) {
      int[] stays = following(range);
      long loads = range.stream().map(p -> p.point().conditions().loadOhm()).distinct().count();
      int count = stays[stays.length - 1] + 1;
      boolean sorted = loads > 1 && range.size() < LEAST_TOGETHER * count;
      int[] chosen = sorted ? alike(range) : stays;
      for (int i = 0; i < chosen.length; i++) {
        numbers.put(range.get(i), chosen[i]);
      }
    }
    return points.stream().map(p -> p.inStay(numbers.get(p))).toList();
  }

  private static double degC(ReducedPoint p) {
    return p.temperatureDegC().map(Estimate::value).orElse(0.0);
  }

  private static int[] following(List<ReducedPoint> range) {
    int[] stays = new int[range.size()];
    double from = degC(range.get(0));
    for (int i = 1; i < stays.length; i++) {
      boolean moved = Math.abs(degC(range.get(i)) - from) > SAME_K;
      stays[i] = stays[i - 1] + (moved ? 1 : 0);
      from = moved ? degC(range.get(i)) : from;
    }
    return stays;
  }

  private static int[] alike(List<ReducedPoint> range) {
    List<Double> found = new ArrayList<>();
    int[] stays = new int[range.size()];
    for (int i = 0; i < stays.length; i++) {
      double degC = degC(range.get(i));
      int at = 0;
      while (at < found.size() && Math.abs(found.get(at) - degC) > SAME_K) {
        at++;
      }
      if (at == found.size()) {
        found.add(degC);
      }
      stays[i] = at;
    }
    return stays;
  }

  /** The points by range, in the order in which ranges first occur. */
  public static Map<String, List<ReducedPoint>> byRange(List<ReducedPoint> points) {
    Map<String, List<ReducedPoint>> ranges = new LinkedHashMap<>();
    points.forEach(p -> ranges.computeIfAbsent(p.range(), r -> new ArrayList<>()).add(p));
    return ranges;
  }

  /** The points by stay. */
  public static Map<Integer, List<ReducedPoint>> byStay(List<ReducedPoint> points) {
    Map<Integer, List<ReducedPoint>> stays = new TreeMap<>();
    points.forEach(p -> stays.computeIfAbsent(p.stay(), s -> new ArrayList<>()).add(p));
    return stays;
  }

  /** Mean temperature of some points, degC; empty if none is known. */
  public static OptionalDouble meanDegC(List<ReducedPoint> points) {
    double first = 0;
    double sum = 0;
    int n = 0;
    for (ReducedPoint p : points) {
      if (p.temperatureDegC().isPresent()) {
        double degC = p.temperatureDegC().get().value();
        first = n++ == 0 ? degC : first;
        sum += degC - first;
      }
    }
    return n == 0 ? OptionalDouble.empty() : OptionalDouble.of(first + sum / n);
  }
}
