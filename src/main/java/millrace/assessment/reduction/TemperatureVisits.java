// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.analysis.uncertainty.Estimate;

/**
 * Assigns each point of a run to a visit: a stay at one temperature, within 0.5 K. Another
 * temperature, another slot or a gap of an hour begins a new visit (methods.md 11.2). On a bench
 * the plan numbers the stays. For readings taken elsewhere their times define the visits over all
 * ranges, or without times their order, range by range.
 */
public final class TemperatureVisits {
  private static final double SAME_K = 0.5;
  private static final double GAP_S = 3600;

  private final Map<String, Integer> numbers = new HashMap<>();
  private final boolean timed;
  private final boolean imported;
  private int next;

  /** A visit that points are added to. */
  private final class Open {
    private final int number = next++;
    private double sumDegC;
    private int n;
    private double lastS;
    private Optional<String> slot = Optional.empty();

    boolean takes(ReducedPoint p) {
      return n == 0
          || (same(p) && p.timeS() - lastS <= GAP_S && slot.equals(p.point().conditions().slot()));
    }

    /** On a bench the plan defines what counts as one temperature; a unit may warm within it. */
    private boolean same(ReducedPoint p) {
      return !imported || Math.abs(degC(p) - sumDegC / n) <= SAME_K;
    }

    void add(ReducedPoint p) {
      sumDegC += degC(p);
      n++;
      lastS = p.timeS();
      slot = p.point().conditions().slot();
      numbers.put(p.name(), number);
    }
  }

  /**
   * Sorts the points of a run.
   *
   * @param points its points, reduced
   * @param imported true if no plan numbered their stays
   */
  public TemperatureVisits(List<ReducedPoint> points, boolean imported) {
    this.imported = imported;
    this.timed = points.stream().mapToDouble(ReducedPoint::timeS).distinct().count() > 1;
    if (imported && timed) {
      List<ReducedPoint> sorted = new ArrayList<>(points);
      sorted.sort(Comparator.comparingDouble(ReducedPoint::timeS));
      inOrder(sorted);
    } else if (imported) {
      TemperatureStays.byRange(points)
          .values()
          .forEach(r -> TemperatureStays.byStay(r).values().forEach(this::alike));
    } else {
      TemperatureStays.byStay(points).values().forEach(this::inOrder);
    }
  }

  private void inOrder(List<ReducedPoint> points) {
    Open open = new Open();
    for (ReducedPoint p : points) {
      if (!open.takes(p)) {
        open = new Open();
      }
      open.add(p);
    }
  }

  /** All points at one temperature, if neither times nor order separate them. */
  private void alike(List<ReducedPoint> points) {
    List<ReducedPoint> sorted = new ArrayList<>(points);
    sorted.sort(Comparator.comparingDouble(TemperatureVisits::degC));
    inOrder(sorted);
  }

  private static double degC(ReducedPoint p) {
    return p.temperatureDegC().map(Estimate::value).orElse(0.0);
  }

  /** Whether points differ in time. */
  public boolean timed() {
    return timed;
  }

  /** The visit that a point belongs to, from 0. */
  public int of(ReducedPoint p) {
    return numbers.getOrDefault(p.name(), 0);
  }

  /** The points by visit, in the order of their numbers. */
  public List<List<ReducedPoint>> grouped(List<ReducedPoint> points) {
    Map<Integer, List<ReducedPoint>> visits = new TreeMap<>();
    points.forEach(p -> visits.computeIfAbsent(of(p), v -> new ArrayList<>()).add(p));
    return List.copyOf(visits.values());
  }
}
