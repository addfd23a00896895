// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import millrace.analysis.optimum.ExactDesign;

/**
 * A night as steps of the levers, 0 the most. It always has at least three loads for each range, a
 * zero for each range and stay, check standards, and T_ref before, between and after hot and cold.
 * Immutable.
 *
 * @param scope the scope of the night
 * @param steps the step of every lever, from 0
 */
public record NightDesign(NightScope scope, Map<NightLever, Integer> steps) {
  private static final List<Integer> PLATEAU = List.of(11, 9, 7, 5, 3);
  private static final List<Integer> READINGS = List.of(20, 14, 10, 7, 5, 4, 3, 2);
  private static final List<Integer> ZEROS = List.of(20, 10, 5);
  private static final List<Double> KNEE_V = List.of(0.002, 0.005, 0.01, 0.02, 0.05);
  private static final List<Double> SOAK_PPM = List.of(2.0, 5.0, 10.0);
  private static final List<Double> RECORD_H = List.of(8.0, 4.0, 2.0, 1.0);

  /** The line of the plateau rests on loads below this share of the compliance, %. */
  private static final int PLATEAU_END = 80;

  /** The number of loads from which some show the curvature of a plateau. */
  private static final int MANY = 7;

  private static final List<Integer> BETWEEN = List.of(20, 40, 60);

  /** The load that shows the current up to the promised voltage, % of the compliance. */
  private static final List<Integer> BEYOND = List.of(90, 100);

  /** The fewest loads that show current, slope and curvature, %. */
  private static final List<Integer> AWAY = List.of(0, PLATEAU_END / 2, PLATEAU_END);

  /** The smallest distance of an intermediate temperature from both its neighbours, K. */
  private static final double BETWEEN_K = 8;

  /** Copies the map. */
  public NightDesign {
    Map<NightLever, Integer> copy = new EnumMap<>(NightLever.class);
    for (NightLever lever : NightLever.values()) {
      copy.put(lever, steps.getOrDefault(lever, 0));
    }
    steps = Collections.unmodifiableMap(copy);
  }

  /**
   * The night with the most of everything.
   *
   * @param scope the scope of the night
   * @return the design
   */
  static NightDesign richest(NightScope scope) {
    return new NightDesign(scope, Map.of());
  }

  /** The night with one step less of a lever; empty at the least. */
  Optional<NightDesign> less(NightLever lever) {
    return moved(lever, 1);
  }

  /** The night with one step more of a lever; empty at the most. */
  Optional<NightDesign> more(NightLever lever) {
    return moved(lever, -1);
  }

  private Optional<NightDesign> moved(NightLever lever, int by) {
    int step = steps.get(lever) + by;
    if (step < 0 || step >= steps(lever)) {
      return Optional.empty();
    }
    Map<NightLever, Integer> other = new EnumMap<>(steps);
    other.put(lever, step);
    return Optional.of(new NightDesign(scope, other));
  }

  private int steps(NightLever lever) {
    return switch (lever) {
      case TEMPERATURES -> scope.isOneSided() || between().isEmpty() ? 1 : 2;
      case ENDS -> scope.moves() ? 2 : 1;
      case LOADS -> PLATEAU.size();
      case SWEEP -> 2;
      case READINGS -> READINGS.size();
      case ZEROS -> ZEROS.size();
      case KNEES -> scope.wantsKnee() && scope.moves() ? 3 : 1;
      case KNEE -> scope.wantsKnee() ? KNEE_V.size() : 1;
      case SOAK -> scope.moves() ? SOAK_PPM.size() : 1;
      case RECORD -> scope.wantsRecord() ? RECORD_H.size() : 1;
    };
  }

  /** The number of steps to the least of a lever. */
  int lessOf(NightLever lever) {
    return steps(lever) - 1 - steps.get(lever);
  }

  /** The night with a number of steps less of a lever, down to the least at most. */
  NightDesign less(NightLever lever, int by) {
    return moved(lever, by).orElseThrow();
  }

  private <T> T of(NightLever lever, List<T> values) {
    return values.get(steps.get(lever));
  }

  /**
   * The amount of a lever, in words.
   *
   * @param lever the lever
   * @return such as {@code 5}
   */
  public String amount(NightLever lever) {
    return switch (lever) {
      case TEMPERATURES -> String.valueOf(new TreeSet<>(temperatures()).size());
      case ENDS -> String.valueOf(loadsAway().size());
      case LOADS -> of(lever, PLATEAU).toString();
      case SWEEP -> bothWays() ? "up and down" : "up alone";
      case READINGS -> String.valueOf(readings());
      case ZEROS -> String.valueOf(zeroReadings());
      case KNEES -> List.of("all", "those to T_ref", "the first").get(steps.get(lever));
      case KNEE -> Math.round(kneeV() * 1e3) + " mV";
      case SOAK -> Math.round(soakPpm()) + " ppm";
      case RECORD -> Math.round(recordH()) + " h";
    };
  }

  /**
   * Temperatures in the order of visits: the hot leg first, since it dries air and unit. T_ref is
   * visited three times, so that hysteresis is distinguished from drift.
   *
   * @return degC; T_ref alone where the chamber does not move
   */
  public List<Double> temperatures() {
    double reference = scope.referenceDegC();
    if (scope.isOneSided()) {
      return List.of(reference, end(), reference, between().orElse(end()), reference);
    }
    List<Double> visits = new ArrayList<>(List.of(reference));
    if (scope.moves()) {
      between().filter(m -> steps.get(NightLever.TEMPERATURES) == 0).ifPresent(visits::add);
      visits.addAll(List.of(end(), reference, scope.coldDegC().orElseThrow(), reference));
    }
    return visits;
  }

  /** The hot end; the cold end where there is no hot one. */
  private double end() {
    return scope.hotDegC().orElseGet(() -> scope.coldDegC().orElseThrow());
  }

  /** The temperature that shows curvature of the current over temperature. */
  private Optional<Double> between() {
    if (!scope.moves()) {
      return Optional.empty();
    }
    double middle = Math.rint((scope.referenceDegC() + end()) / 2);
    return Math.abs(middle - scope.referenceDegC()) < BETWEEN_K
        ? Optional.empty()
        : Optional.of(middle);
  }

  /**
   * Loads as shares of the compliance: on the plateau where they determine a line best, with some
   * between that show its curvature; and up to the voltage where the current is promised.
   *
   * @return %, rising
   */
  public List<Integer> loadsPercent() {
    int plateau = of(NightLever.LOADS, PLATEAU);
    List<Integer> between = plateau < MANY ? List.of(PLATEAU_END / 2) : BETWEEN;
    double[][] places = {{1, 0}, {1, PLATEAU_END / 2.0}, {1, PLATEAU_END}};
    int[] counts = ExactDesign.of(places, plateau - between.size(), ExactDesign.Criterion.D);
    List<Integer> loads = new ArrayList<>();
    for (int i = 0; i < counts[0]; i++) {
      loads.add(i); // adjacent values: a load given twice would be one point of two repeats
    }
    loads.addAll(between);
    for (int i = counts[2] - 1; i >= 0; i--) {
      loads.add(PLATEAU_END - i);
    }
    loads.addAll(BEYOND);
    return loads;
  }

  /** Whether a few loads are enough at temperatures other than T_ref. */
  public boolean fewAway() {
    return steps.get(NightLever.ENDS) > 0;
  }

  /**
   * Loads at temperatures other than T_ref.
   *
   * @return shares of the compliance, %, rising
   */
  public List<Integer> loadsAway() {
    return fewAway() ? AWAY : loadsPercent();
  }

  /**
   * Loads at a temperature.
   *
   * @param degC one of the temperatures
   * @return shares of the compliance, %, rising
   */
  List<Integer> loadsPercent(double degC) {
    return degC == scope.referenceDegC() ? loadsPercent() : loadsAway();
  }

  /** Whether the knee is searched for at a visit, by its number from 0. */
  boolean findsKnee(int visit) {
    return switch (steps.get(NightLever.KNEES)) {
      case 0 -> true;
      case 1 -> temperatures().get(visit) == scope.referenceDegC();
      default -> visit == 0;
    };
  }

  /** Whether all visits have the same points. */
  boolean isUniform() {
    return !fewAway() && steps.get(NightLever.KNEES) == 0;
  }

  /**
   * The night with the least of everything, except one lever, which keeps the step of this night.
   */
  NightDesign leanestBut(Optional<NightLever> kept) {
    Map<NightLever, Integer> other = new EnumMap<>(NightLever.class);
    for (NightLever lever : NightLever.values()) {
      boolean same = kept.filter(lever::equals).isPresent();
      other.put(lever, same ? steps.get(lever) : steps(lever) - 1);
    }
    return new NightDesign(scope, other);
  }

  /** Whether the loads are swept up and down. */
  boolean bothWays() {
    return steps.get(NightLever.SWEEP) == 0;
  }

  /** Readings of a point. */
  int readings() {
    return of(NightLever.READINGS, READINGS);
  }

  /** Readings of a zero. */
  int zeroReadings() {
    return of(NightLever.ZEROS, ZEROS);
  }

  /** The final width of the search for the knee, V. */
  double kneeV() {
    return of(NightLever.KNEE, KNEE_V);
  }

  /** The largest distance of a current from its final value at the end of a soak, ppm. */
  double soakPpm() {
    return of(NightLever.SOAK, SOAK_PPM);
  }

  /** The length of the record over time, h. */
  double recordH() {
    return of(NightLever.RECORD, RECORD_H);
  }
}
