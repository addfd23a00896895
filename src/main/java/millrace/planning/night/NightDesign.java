// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A night as steps of its amounts, 0 the most. It always has at least three loads for each range, a
 * zero for each range and stay, check standards, and T_ref before, between and after hot and cold.
 * Immutable.
 *
 * @param scope the scope of the night
 * @param steps the step of every amount, from 0
 */
public record NightDesign(NightScope scope, Map<NightAmount, Integer> steps) {
  private static final List<Integer> PLATEAU = List.of(17, 13, 11, 9, 7, 5, 3);

  /** The richest night has 11 loads on the plateau; more of them are for what few readings tell. */
  private static final int PLATEAU_STEP = 2;

  private static final int MANY = 11;
  private static final List<Integer> READINGS =
      List.of(
          40, 36, 32, 29, 26, 24, 22, 20, 18, 17, 16, 15, 14, 13, 12, 11, 10, 9, 8, 7, 6, 5, 4, 3,
          2);

  /** The richest night has 20 readings; more of them make up for fewer loads. */
  private static final int READINGS_STEP = 7;

  private static final List<Double> AWAY = List.of(1.0, 0.5, 0.25);
  private static final int LEAST_AWAY = 3;
  private static final List<Integer> ZEROS = List.of(20, 10, 5);
  private static final List<Integer> VOLTAGE = List.of(2, 1);
  private static final List<Double> KNEE_V = List.of(0.002, 0.005, 0.01, 0.02, 0.05);
  private static final List<Double> SOAK_PPM = List.of(2.0, 5.0, 10.0);

  /** Some control periods of the chamber; fewer where more may be left. */
  private static final List<Integer> SOAK_MIN = List.of(10, 10, 5);

  private static final List<Double> RECORD_H = List.of(8.0, 4.0, 2.0, 1.0);

  /** Copies the map. */
  public NightDesign {
    Map<NightAmount, Integer> copy = new LinkedHashMap<>();
    for (NightLever lever : NightLever.values()) {
      for (NightAmount amount : amounts(scope, lever)) {
        copy.put(amount, steps.getOrDefault(amount, 0));
      }
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
    Map<NightAmount, Integer> steps = new LinkedHashMap<>();
    amounts(scope, NightLever.READINGS).forEach(a -> steps.put(a, READINGS_STEP));
    amounts(scope, NightLever.LOADS).forEach(a -> steps.put(a, PLATEAU_STEP));
    return new NightDesign(scope, steps);
  }

  private static List<NightAmount> amounts(NightScope scope, NightLever lever) {
    return lever.isOfRange()
        ? scope.ranges().stream().map(r -> new NightAmount(lever, Optional.of(r))).toList()
        : List.of(new NightAmount(lever, Optional.empty()));
  }

  /** The amounts of a lever: one, or one for each range. */
  List<NightAmount> amounts(NightLever lever) {
    return amounts(scope, lever);
  }

  /** The night with one step more of an amount; empty at the most. */
  Optional<NightDesign> more(NightAmount amount) {
    int step = steps.get(amount);
    return step > 0 ? Optional.of(at(amount, step - 1)) : Optional.empty();
  }

  /** The night with one step less of an amount; empty at the least. */
  Optional<NightDesign> less(NightAmount amount) {
    return lessOf(amount) > 0 ? Optional.of(at(amount, steps.get(amount) + 1)) : Optional.empty();
  }

  /** The night with one step more, or less, of all amounts of a lever that have one. */
  Optional<NightDesign> all(NightLever lever, boolean more) {
    NightDesign design = this;
    for (NightAmount amount : amounts(lever)) {
      NightDesign from = design;
      design = (more ? from.more(amount) : from.less(amount)).orElse(from);
    }
    return design.equals(this) ? Optional.empty() : Optional.of(design);
  }

  /** The night with an amount at a step. */
  NightDesign at(NightAmount amount, int step) {
    return with(Map.of(amount, step));
  }

  /** The night with some amounts at other steps. */
  NightDesign with(Map<NightAmount, Integer> other) {
    Map<NightAmount, Integer> changed = new LinkedHashMap<>(steps);
    changed.putAll(other);
    return new NightDesign(scope, changed);
  }

  /** The number of steps to the least of an amount. */
  int lessOf(NightAmount amount) {
    return NightSteps.of(scope, amount.lever()) - 1 - steps.get(amount);
  }

  /** The night with the least of everything, except one lever, which keeps its steps. */
  NightDesign leanestBut(Optional<NightLever> kept) {
    Map<NightAmount, Integer> other = new LinkedHashMap<>();
    steps.keySet().stream()
        .filter(a -> kept.filter(a.lever()::equals).isEmpty())
        .forEach(a -> other.put(a, steps.get(a) + lessOf(a)));
    return with(other);
  }

  private int step(NightLever lever) {
    return steps.get(new NightAmount(lever, Optional.empty()));
  }

  private int step(NightLever lever, String range) {
    return steps.get(new NightAmount(lever, Optional.of(range)));
  }

  /**
   * An amount in words.
   *
   * @param amount the amount
   * @return such as {@code 5}
   */
  public String words(NightAmount amount) {
    String range = amount.range().orElse("");
    return switch (amount.lever()) {
      case SWEEP -> bothWays(range) ? "up and down" : "once";
      case ENDS -> String.valueOf(ends(range).size());
      case BETWEEN -> between(range).isEmpty() ? "none" : String.valueOf(between(range).size());
      case LOADS -> PLATEAU.get(step(NightLever.LOADS, range)).toString();
      case READINGS -> String.valueOf(readings(range));
      case AWAY -> String.valueOf(fewer(NightLever.AWAY, range));
      case NEAR -> String.valueOf(fewer(NightLever.NEAR, range));
      case VOLTAGE -> String.valueOf(voltages());
      case KNEES -> List.of("all", "those to T_ref", "the first").get(step(NightLever.KNEES));
      case KNEE -> Math.round(kneeV() * 1e3) + " mV";
      case ZEROS -> String.valueOf(zeroReadings());
      case SOAK -> Math.round(soakPpm()) + " ppm";
      case RECORD -> Math.round(recordH()) + " h";
    };
  }

  /**
   * The same, where the night has more than one possible size of the amount.
   *
   * @param amount the amount
   * @return in words; empty where there is nothing to choose
   */
  public Optional<String> shown(NightAmount amount) {
    boolean choice = NightSteps.of(scope, amount.lever()) > 1;
    boolean between = amount.lever() == NightLever.BETWEEN || amount.lever() == NightLever.NEAR;
    boolean there = !between || visited().isPresent();
    return choice && there ? Optional.of(words(amount)) : Optional.empty();
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
      double end = scope.endDegC();
      return List.of(reference, end, reference, scope.betweenDegC().orElse(end), reference);
    }
    List<Double> visits = new ArrayList<>(List.of(reference));
    if (scope.moves()) {
      double cold = scope.coldDegC().orElseThrow();
      Optional<Double> between = visited();
      between.filter(t -> t > reference).ifPresent(visits::add);
      visits.addAll(List.of(scope.endDegC(), reference));
      between.filter(t -> t < reference).ifPresent(visits::add);
      visits.addAll(List.of(cold, reference));
    }
    return visits;
  }

  /** The temperature between, where it is visited. */
  private Optional<Double> visited() {
    boolean measured = scope.ranges().stream().anyMatch(r -> !between(r).isEmpty());
    return measured ? scope.betweenDegC() : Optional.empty();
  }

  /** Loads of a range at T_ref, shares of the compliance, %, rising. */
  public List<Integer> loadsPercent(String range) {
    return scope.loads().all(PLATEAU.get(step(NightLever.LOADS, range)));
  }

  /** Loads of a range at the ends of the promised span, likewise. */
  public List<Integer> ends(String range) {
    return switch (step(NightLever.ENDS, range)) {
      case 0 -> scope.loads().all(MANY);
      case 1 -> scope.loads().some();
      default -> NightLoads.THREE;
    };
  }

  private List<Integer> between(String range) {
    return switch (step(NightLever.BETWEEN, range)) {
      case 0 -> scope.loads().all(MANY);
      case 1 -> scope.loads().some();
      default -> List.of();
    };
  }

  /**
   * The points of a range at a visit.
   *
   * @param loads shares of the compliance, %, in the order in which they are measured
   * @param sweep the word of the sequence for the order
   * @param readings readings of a point
   */
  record Points(List<Integer> loads, String sweep, int readings) {}

  /** The points of a range at a temperature; empty where it is not measured there. */
  Optional<Points> points(String range, double degC) {
    boolean end = !isReference(degC) && !visited().equals(Optional.of(degC));
    boolean reference = isReference(degC);
    List<Integer> loads = reference ? loadsPercent(range) : end ? ends(range) : between(range);
    if (loads.isEmpty()) {
      return Optional.empty();
    }
    NightLever fewer = end ? NightLever.AWAY : NightLever.NEAR;
    int readings = reference ? readings(range) : fewer(fewer, range);
    if (loads.equals(NightLoads.THREE)) {
      return Optional.of(new Points(loads, "up", readings));
    }
    return Optional.of(
        bothWays(range)
            ? new Points(loads, "both", readings)
            : new Points(NightLoads.balanced(loads), "as listed", readings));
  }

  private boolean isReference(double degC) {
    return degC == scope.referenceDegC();
  }

  /** The part of the variance of a slope that depends on the loads: sum of squares, %^2. */
  double loadSquares(String range) {
    return NightLoads.squares(loadsPercent(range)) * (bothWays(range) ? 2 : 1);
  }

  /** Points of one sweep of a range on its plateau. */
  int points(String range) {
    return loadsPercent(range).size() * (bothWays(range) ? 2 : 1);
  }

  /** The night in which a range has about so many times as many readings. */
  NightDesign withReadings(String range, double times) {
    double wanted = readings(range) * times;
    int step = READINGS.size() - 1;
    while (step > 0 && READINGS.get(step) < wanted) {
      step--;
    }
    return at(new NightAmount(NightLever.READINGS, Optional.of(range)), step);
  }

  /** Whether the knee is searched for at a visit, by its number from 0. */
  boolean findsKnee(int visit) {
    return switch (step(NightLever.KNEES)) {
      case 0 -> true;
      case 1 -> isReference(temperatures().get(visit));
      default -> visit == 0;
    };
  }

  /** Whether the loads of a range are swept up and down; few loads cannot be in balanced order. */
  boolean bothWays(String range) {
    return step(NightLever.SWEEP, range) == 0
        || PLATEAU.get(step(NightLever.LOADS, range)) < NightLoads.FEWEST;
  }

  /** Readings of a point. */
  int readings(String range) {
    return READINGS.get(step(NightLever.READINGS, range));
  }

  /** Readings of a point away from T_ref. */
  private int fewer(NightLever lever, String range) {
    int all = readings(range);
    double part = AWAY.get(step(lever, range));
    return Math.min(all, Math.max(LEAST_AWAY, (int) Math.ceil(all * part)));
  }

  /** Readings of the voltage at a point. */
  int voltages() {
    return VOLTAGE.get(step(NightLever.VOLTAGE));
  }

  /** Readings of a zero. */
  int zeroReadings() {
    return ZEROS.get(step(NightLever.ZEROS));
  }

  /** The final width of the search for the knee, V. */
  double kneeV() {
    return KNEE_V.get(step(NightLever.KNEE));
  }

  /** The largest distance of a current from its final value at the end of a soak, ppm. */
  double soakPpm() {
    return SOAK_PPM.get(step(NightLever.SOAK));
  }

  /** The shortest soak, min. */
  int soakMin() {
    return SOAK_MIN.get(step(NightLever.SOAK));
  }

  /** The length of the record over time, h. */
  double recordH() {
    return RECORD_H.get(step(NightLever.RECORD));
  }

  /** Counts the steps of levers. Stateless. */
  private static final class NightSteps {
    private NightSteps() {}

    static int of(NightScope scope, NightLever lever) {
      boolean between = !scope.isOneSided() && scope.betweenDegC().isPresent();
      return switch (lever) {
        case SOAK -> scope.moves() ? SOAK_PPM.size() : 1;
        case SWEEP -> 2;
        case ENDS -> scope.moves() ? 3 : 1;
        case BETWEEN -> between ? 3 : 1;
        case LOADS -> PLATEAU.size();
        case READINGS -> READINGS.size();
        case AWAY -> scope.moves() ? AWAY.size() : 1;
        case NEAR -> between ? AWAY.size() : 1;
        case VOLTAGE -> VOLTAGE.size();
        case KNEES -> scope.wantsKnee() && scope.moves() ? 3 : 1;
        case KNEE -> scope.wantsKnee() ? KNEE_V.size() : 1;
        case ZEROS -> ZEROS.size();
        case RECORD -> scope.wantsRecord() ? RECORD_H.size() : 1;
      };
    }
  }
}
