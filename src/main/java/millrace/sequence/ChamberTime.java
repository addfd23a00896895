// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import millrace.datasheet.Datasheet;
import millrace.evidence.Limit;
import millrace.evidence.PointConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.TimeSpanSeconds;
import millrace.sequence.Plan.TemperatureRule;

/**
 * Estimates how long moves and soaks take: the air lags behind its ramp and overshoots, the unit
 * follows the air with the datasheet's time constant, and the soak ends when the remaining change
 * of the current is below what is asked. Where no earlier run tells, a unit is assumed to have a
 * third of the promised temperature coefficient. Immutable.
 *
 * @param tauS thermal time constant of the unit, s, above 0
 * @param rampKPerS of the chamber, K/s, above 0
 * @param nearK the unit is at temperature within this distance, K, above 0
 * @param withinRatio the remaining change of the current that is asked for, a ratio, above 0
 * @param leastS the shortest soak, s
 * @param mostS the longest soak, s
 * @param confirmS from the first look that finds the unit at temperature to the end of the soak, s
 */
public record ChamberTime(
    double tauS,
    double rampKPerS,
    double nearK,
    double withinRatio,
    double leastS,
    double mostS,
    double confirmS) {
  /** A knee is searched for within this distance from its temperature, K. */
  public static final double KNEE_WITHIN_K = 3;

  /** Used if the datasheet states no thermal time constant. */
  private static final double USUAL_TAU_S = 600;

  private static final double USUAL_RAMP_K_PER_S = 2.0 / 60;
  private static final double USUAL_PER_K = 2e-6;
  private static final double GOOD_SHARE = 1.0 / 3;
  private static final double AIR_S = 240;
  private static final double STEP_S = 5;

  /** How far the air overshoots after a step of 10 K or more; common practice, no source. */
  private static final double OVERSHOOT_K = 2;

  private static final double FULL_OVERSHOOT_FROM_K = 10;
  private static final int ROUNDS = 20;

  /** The share of the criterion that the noise of current and of thermometer leaves. */
  private static final double ROOM = 0.85;

  private static final double ROOM_OF_BAND = 0.98;

  /** At this criterion the noise of the readings decides when a soak without a step ends. */
  private static final double NOISE_RATIO = 2e-6;

  /** How long each range has to meet the criterion. */
  private static final double CONFIRM_S = 120;

  /** The time of one look at one unit that soaks. */
  static final double LOOK_S = 2.5;

  /** Two looks at the end of the shortest soak. */
  private static final double LOOKS_S = 90;

  /** A unit warms up even if the chamber does not move; less, the more may be left. */
  private static final double WARM_UP_TAUS = 1.4;

  private static final double WARM_UP_TAUS_PER_E = 0.625;

  /** After a step up to this size the overshoot of the air does not end the soak sooner. */
  private static final double SMALL_STEP_K = 8;

  /**
   * The times of one stay of a plan with a unit of a kind.
   *
   * @param rule how the stay is soaked
   * @param plan whose ranges take turns, those of all units at once
   * @param sheet what the unit promises
   * @param benchSpeeds how fast the bench goes
   * @return its times
   */
  public static ChamberTime of(
      TemperatureRule rule, Plan plan, Datasheet sheet, BenchSpeeds benchSpeeds) {
    double tau = tauS(sheet);
    double perK = benchSpeeds.unitPerK().orElseGet(() -> perK(sheet));
    double asked = perK > 0 ? ROOM * rule.soak().withinRatio() / perK : Double.POSITIVE_INFINITY;
    double ramp = benchSpeeds.rampKPerS(rule);
    double lookS = rule.soak().everyS() + LOOK_S * different(plan, PointConditions::slot);
    return new ChamberTime(
        tau,
        Double.isInfinite(ramp) ? USUAL_RAMP_K_PER_S : ramp,
        Math.min(asked, ROOM_OF_BAND * rule.soak().bandK()),
        rule.soak().withinRatio(),
        rule.soak().leastS(),
        rule.soak().mostS(),
        CONFIRM_S + different(plan, PointConditions::range) * lookS);
  }

  /**
   * The thermal time constant of a unit.
   *
   * @param sheet what the unit promises
   * @return what the sheet states, else 600 s; s, above 0
   */
  public static double tauS(Datasheet sheet) {
    return sheet.thermalTimeConstant().map(TimeSpanSeconds::seconds).orElse(USUAL_TAU_S);
  }

  /** How many ranges or slots there are among what is measured after a soak; at least 1. */
  private static long different(Plan plan, Function<PointConditions, Optional<String>> of) {
    return Math.max(
        1,
        plan.points().stream()
            .filter(p -> p.temperature().filter(t -> !t.soaking()).isPresent())
            .flatMap(p -> of.apply(p.conditions()).stream())
            .distinct()
            .count());
  }

  private static double perK(Datasheet sheet) {
    OptionalDouble promised =
        sheet.limits().stream()
            .filter(l -> l.quantity() == ResultQuantity.TEMPCO)
            .map(l -> l.limit(1))
            .flatMapToDouble(ChamberTime::sides)
            .min();
    return promised.isPresent() ? promised.getAsDouble() * 1e-6 * GOOD_SHARE : USUAL_PER_K;
  }

  private static DoubleStream sides(Limit limit) {
    return Stream.of(limit.lower(), limit.upper())
        .flatMapToDouble(OptionalDouble::stream)
        .map(Math::abs)
        .filter(x -> x > 0);
  }

  double moveS(double fromDegC, double toDegC) {
    return Math.abs(toDegC - fromDegC) / rampKPerS;
  }

  /** From setting the chamber until the soak is over, the move included, s. */
  double stayS(double fromDegC, double toDegC) {
    double size = Math.abs(toDegC - fromDegC);
    double settled = size < nearK ? warmS() : size <= SMALL_STEP_K ? smallS(size) : largeS(size);
    return Math.min(Math.max(leastS + LOOKS_S, settled), Math.max(mostS, leastS));
  }

  private double warmS() {
    double eased = Math.log(Math.max(1, withinRatio / NOISE_RATIO));
    return Math.max(0, WARM_UP_TAUS - WARM_UP_TAUS_PER_E * eased) * tauS + confirmS;
  }

  private double smallS(double size) {
    return tauS * Math.log(size / nearK) + size / rampKPerS + AIR_S;
  }

  private double largeS(double size) {
    return nearS(size, nearK) + confirmS;
  }

  /** From setting the chamber until a unit is within some kelvin of its final temperature, s. */
  double withinS(double fromDegC, double toDegC, double kelvin) {
    return nearS(Math.abs(toDegC - fromDegC), kelvin);
  }

  private double nearS(double size, double kelvin) {
    double drive = size > kelvin ? driveK(size) : 0;
    double unit = 0;
    double t = 0;
    while (Math.abs(size - unit) > kelvin) {
      t += STEP_S;
      unit += (airK(size, t, drive) - unit) * STEP_S / Math.max(tauS, STEP_S);
    }
    return t;
  }

  /**
   * Air that lags behind its ramp and overshoots the set point: in units of its time constant, it
   * is off by (B s - L) exp(-s) after the ramp, L being its lag then.
   */
  private double airK(double size, double t, double driveK) {
    double rampS = size / rampKPerS;
    if (t <= rampS) {
      return rampKPerS * t - behindK(t);
    }
    double since = (t - rampS) / AIR_S;
    return size + (driveK * since - behindK(rampS)) * Math.exp(-since);
  }

  /**
   * B for the overshoot h: the air is highest by B exp(-1 - L/B), so that x = L/B solves x exp(x) =
   * L/(e h), by Newton's method.
   */
  private double driveK(double size) {
    double behind = behindK(size / rampKPerS);
    double overshoot = OVERSHOOT_K * Math.min(1, size / FULL_OVERSHOOT_FROM_K);
    double asked = behind / (Math.E * overshoot);
    double x = Math.log1p(asked);
    for (int i = 0; i < ROUNDS; i++) {
      double decayed = asked * Math.exp(-x);
      x -= (x - decayed) / (1 + decayed);
    }
    return behind / x;
  }

  private double behindK(double t) {
    return rampKPerS * AIR_S * -Math.expm1(-t / AIR_S);
  }

  /** Moves and soaks of a lap of temperatures, s. */
  public double lapS(double fromDegC, List<Double> order) {
    double sum = 0;
    double before = fromDegC;
    for (double next : order) {
      sum += stayS(before, next);
      before = next;
    }
    return sum;
  }
}
