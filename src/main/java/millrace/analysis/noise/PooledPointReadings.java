// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

/**
 * The readings of many points in the order of time, and what may be left free of them to tell the
 * law of their noise (methods.md 2.1, 5.10). Immutable and thread-safe.
 */
final class PooledPointReadings {
  /** Largest number of readings that are compared pair by pair. */
  private static final int MOST = 240;

  private static final int LEAST_FOR_SLOPE = 4;

  /** Nanoseconds. */
  private static final double PER_SECOND = 1e9;

  private final List<PointReadings> points;

  PooledPointReadings(List<PointReadings> points) {
    List<PointReadings> sorted = new ArrayList<>(points);
    sorted.sort(Comparator.comparingDouble(PointReadings::fromS));
    this.points = List.copyOf(sorted);
  }

  List<PointReadings> points() {
    return points;
  }

  int size() {
    return points.stream().mapToInt(PointReadings::size).sum();
  }

  /** Readings less points: what is left once each point's level is free. */
  int within() {
    return size() - points.size();
  }

  /** The time from reading to reading within points, s; within visits where points have one. */
  double intervalS() {
    List<Double> steps = new ArrayList<>();
    for (PointReadings p : points) {
      double[] t = p.timesS();
      for (int i = 1; i < t.length; i++) {
        steps.add(spanS(t[i - 1], t[i]));
      }
    }
    if (steps.isEmpty()) {
      for (int i = 1; i < points.size(); i++) {
        if (points.get(i).visit() == points.get(i - 1).visit()) {
          steps.add(spanS(points.get(i - 1).toS(), points.get(i).fromS()));
        }
      }
    }
    steps.removeIf(s -> !(s > 0));
    double span = spanS();
    if (steps.isEmpty()) {
      return span > 0 ? span / Math.max(1, points.size() - 1) : 1;
    }
    steps.sort(null);
    return (steps.get((steps.size() - 1) / 2) + steps.get(steps.size() / 2)) / 2;
  }

  /**
   * From one time to another, s. Times are kept in whole nanoseconds; so is what lies between them,
   * of which a difference late in a night would lose the last digits. Points that were read in the
   * same rhythm have the same covariance to the bit.
   */
  private static double spanS(double earlierS, double laterS) {
    return Math.rint((laterS - earlierS) * PER_SECOND) / PER_SECOND;
  }

  /** From the first reading to the last, s. */
  double spanS() {
    double to = points.stream().mapToDouble(PointReadings::toS).max().orElse(0);
    return to - points.get(0).fromS();
  }

  /** How many visits there are. */
  long visits() {
    return points.stream().mapToInt(PointReadings::visit).distinct().count();
  }

  /** How often T_ref was visited. */
  int referenceVisits() {
    TreeSet<Integer> visits = new TreeSet<>();
    points.stream().filter(PointReadings::reference).forEach(p -> visits.add(p.visit()));
    return visits.size();
  }

  /** Points whose level is one: those of a visit at one condition. */
  private Map<String, List<PointReadings>> groups() {
    Map<String, List<PointReadings>> groups = new LinkedHashMap<>();
    for (PointReadings p : points) {
      groups.computeIfAbsent(p.visit() + " " + p.condition(), g -> new ArrayList<>()).add(p);
    }
    return groups;
  }

  /** What readings within points tell, each point's level free (methods.md 2.1). */
  LawEvidence withinPoints(NoiseLaws laws) {
    return apart(laws, points.stream().map(List::of).toList(), Integer.MAX_VALUE);
  }

  /** What readings within visits tell, each visit's level free, its slope too from 4 on (5.10). */
  LawEvidence withinVisits(NoiseLaws laws) {
    return apart(laws, List.copyOf(groups().values()), LEAST_FOR_SLOPE);
  }

  /** All together where they are few; where they are many each group for itself. */
  private LawEvidence apart(NoiseLaws laws, List<List<PointReadings>> groups, int slopeFrom) {
    double stepS = intervalS();
    if (size() <= MOST) {
      List<double[]> free = new ArrayList<>();
      groups.forEach(g -> free.addAll(columns(points, g, slopeFrom)));
      return contrasts(free, stepS).evidence(laws);
    }
    LawEvidence all = LawEvidence.nothing(laws.size());
    for (List<PointReadings> group : groups) {
      all = all.and(new PooledPointReadings(group).alone(laws, slopeFrom, stepS));
    }
    return all;
  }

  private LawEvidence alone(NoiseLaws laws, int slopeFrom, double stepS) {
    double[] values = values();
    if (values.length < 2) {
      return LawEvidence.nothing(laws.size());
    } else if (values.length <= MOST || slopeFrom > values.length) {
      return contrasts(columns(points, points, slopeFrom), stepS).evidence(laws);
    }
    double[] times = times(stepS);
    CosineBasis basis = new CosineBasis(values.length);
    return LawEvidence.ofSeries(
        laws,
        ReadingIntervals.spectra(laws, basis),
        basis.coefficients(HampelClipping.of(values)),
        basis.coefficients(ReadingIntervals.centred(times)));
  }

  private NoiseLikelihood contrasts(List<double[]> free, double stepS) {
    return NoiseLikelihood.of(times(stepS), values(), free);
  }

  private double[] times(double step) {
    double from = points.get(0).fromS();
    return points.stream()
        .flatMapToDouble(p -> Arrays.stream(p.timesS()))
        .map(t -> spanS(from, t) / step)
        .toArray();
  }

  private double[] values() {
    return points.stream().flatMapToDouble(p -> Arrays.stream(p.values())).toArray();
  }

  /** Level of a group, and its slope if it has readings enough. */
  private static List<double[]> columns(
      List<PointReadings> all, List<PointReadings> group, int slopeFrom) {
    int n = all.stream().mapToInt(PointReadings::size).sum();
    double[] level = new double[n];
    double[] slope = new double[n];
    double middle = group.stream().mapToDouble(PointReadings::middleS).average().orElse(0);
    int at = 0;
    int count = 0;
    for (PointReadings p : all) {
      boolean mine = group.contains(p);
      double[] t = p.timesS();
      for (int i = 0; i < t.length; i++, at++) {
        level[at] = mine ? 1 : 0;
        slope[at] = mine ? spanS(middle, t[i]) : 0;
      }
      count += mine ? t.length : 0;
    }
    return count >= slopeFrom ? List.of(level, slope) : List.of(level);
  }

  /** Whether there are too many readings to compare pair by pair. */
  boolean many() {
    return size() > MOST;
  }

  /** What the means of visits to T_ref tell, beside what readings within visits do (5.10). */
  LawEvidence meansAtReference(NoiseLaws laws, boolean timed) {
    List<PointReadings> reference = points.stream().filter(PointReadings::reference).toList();
    return VisitMeanLikelihood.of(reference, intervalS(), timed).evidence(laws);
  }

  /**
   * What visits to T_ref tell that share one level, all readings of all visits in one fit; for few
   * readings (methods.md 5.10).
   *
   * @param laws the laws
   * @param timed whether a drift is free too
   */
  LawEvidence sharing(NoiseLaws laws, boolean timed) {
    Map<String, List<PointReadings>> levels = new LinkedHashMap<>();
    List<double[]> free = new ArrayList<>();
    for (List<PointReadings> group : groups().values()) {
      PointReadings first = group.get(0);
      String key = first.reference() ? "T_ref " + first.condition() : "visit " + first.name();
      levels.computeIfAbsent(key, k -> new ArrayList<>()).addAll(group);
      List<double[]> both = columns(points, group, LEAST_FOR_SLOPE);
      free.addAll(both.subList(1, both.size()));
    }
    levels.values().forEach(g -> free.add(columns(points, g, Integer.MAX_VALUE).get(0)));
    if (timed) {
      free.add(times(intervalS()));
    }
    return contrasts(free, intervalS()).evidence(laws);
  }
}
