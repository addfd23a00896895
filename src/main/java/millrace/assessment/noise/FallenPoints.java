// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.ToIntFunction;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.regression.LinearFit;
import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;

/**
 * The points of a range at which the current has fallen (methods.md 5.10). Beyond the knee the
 * current is what the headroom leaves, which moves with the temperature by a hundred ppm a kelvin,
 * at the onset of the knee by less: what such points differ by from visit to visit is no noise of
 * the current. Stateless.
 */
final class FallenPoints {
  /** The share that is missing of the current of most points of the visit. */
  private static final double FALLEN = 3e-4;

  /**
   * The share that is missing of the line through the lower half of the loads: with a knee rounded
   * over 0.1 V it moves by some 0.5 ppm/K there.
   */
  private static final double BELOW_LINE = 3e-5;

  /** Noise alone makes no point fall. */
  private static final double TIMES_U = 5;

  private FallenPoints() {}

  /**
   * The points at which the current has fallen below that of most others of its visit, or below the
   * line through the lower half of their loads.
   *
   * @param noise of the readings of the points
   * @param points of one range
   * @param stay the visit of a point
   * @return those points, by identity; empty with one visit alone, in which nothing moves
   */
  static Set<PointReadingTally> of(
      PooledNoise noise, Collection<PointReadingTally> points, ToIntFunction<Point> stay) {
    if (points.stream().mapToInt(p -> stay.applyAsInt(p.point())).distinct().count() < 2) {
      return Set.of();
    }
    Map<String, List<PointReadingTally>> visits = new LinkedHashMap<>();
    for (PointReadingTally p : points) {
      PointConditions c = p.point().conditions();
      String alike = "%s %s %s".formatted(stay.applyAsInt(p.point()), c.supplyV(), c.setA());
      visits.computeIfAbsent(alike, v -> new ArrayList<>()).add(p);
    }
    Set<PointReadingTally> fallen = Collections.newSetFromMap(new IdentityHashMap<>());
    for (List<PointReadingTally> visit : visits.values()) {
      double level = level(visit);
      visit.stream().filter(p -> isFallen(p, level, noise)).forEach(fallen::add);
      fallen.addAll(belowLine(visit.stream().filter(p -> !fallen.contains(p)).toList(), noise));
    }
    return fallen;
  }

  /** The upper quartile: of a sweep beyond the knee a quarter at least is on the plateau. */
  private static double level(List<PointReadingTally> visit) {
    double[] rising = visit.stream().mapToDouble(FallenPoints::sizeA).sorted().toArray();
    return rising[3 * rising.length / 4];
  }

  private static double sizeA(PointReadingTally p) {
    return Math.abs(p.mean(MeasuredSignal.CURRENT).orElse(0));
  }

  private static boolean isFallen(PointReadingTally p, double level, PooledNoise noise) {
    return sizeA(p) < level * (1 - FALLEN) - TIMES_U * u(p, noise);
  }

  private static double u(PointReadingTally p, PooledNoise noise) {
    return noise.meanUncertainty(p.of(MeasuredSignal.CURRENT).map(ReadingStatistics::n).orElse(1L));
  }

  /** A current that falls with the load all the way, by leakage, is on its line. */
  private static List<PointReadingTally> belowLine(
      List<PointReadingTally> visit, PooledNoise noise) {
    double highestV = visit.stream().mapToDouble(LoadVoltages::of).max().orElse(0);
    List<PointReadingTally> lower =
        visit.stream().filter(p -> LoadVoltages.of(p) <= highestV / 2 && u(p, noise) > 0).toList();
    if (lower.stream().mapToDouble(LoadVoltages::of).distinct().count() < 2) {
      return List.of();
    }
    double[] ones = lower.stream().mapToDouble(p -> 1).toArray();
    double[] volts = lower.stream().mapToDouble(LoadVoltages::of).toArray();
    double[] u = lower.stream().mapToDouble(p -> u(p, noise)).toArray();
    double[] y = lower.stream().mapToDouble(FallenPoints::sizeA).toArray();
    LinearFit line = LinearFit.of(new double[][] {ones, volts}, y, u);
    return visit.stream().filter(p -> isBelow(p, line, u, u(p, noise))).toList();
  }

  private static boolean isBelow(PointReadingTally p, LinearFit line, double[] u, double own) {
    double volts = LoadVoltages.of(p);
    double[] level = line.estimator(0);
    double[] slope = line.estimator(1);
    double variance = own * own;
    for (int i = 0; i < u.length; i++) {
      double weight = (level[i] + slope[i] * volts) * u[i];
      variance += weight * weight;
    }
    double expected = line.coefficient(0) + line.coefficient(1) * volts;
    return sizeA(p) < expected * (1 - BELOW_LINE) - TIMES_U * Math.sqrt(variance);
  }
}
