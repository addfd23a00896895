// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.HashMap;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.sequence.MeasuringRules.SettleRule;
import millrace.sequence.Plan.PlannedPoint;

/**
 * How long a plan waits until it reads: the stated wait or the charge of the cable, then the
 * readings until they stand still, by how they are expected to scatter (methods.md 12). What the
 * source itself takes to settle beyond that is not known before a run. Single-threaded.
 */
final class SettlingTime {
  private static final double PER_CHANGE_S = 0.1;
  private static final double DIGITS = 100;

  private final BenchSpeeds speeds;
  private final Map<String, Double> readings = new HashMap<>();

  SettlingTime(BenchSpeeds speeds) {
    this.speeds = speeds;
  }

  /** The stated wait alone, with the change before it, s. */
  double waitS(PlannedPoint point) {
    return PER_CHANGE_S + point.rules().settle().waitS();
  }

  /** After a change of the loop with the source on, s. */
  double loopS(PlannedPoint point) {
    SettleRule rule = point.rules().settle();
    double chargeS = speeds.chargeS().applyAsDouble(point.conditions().loadOhm().orElse(0));
    double waitS = PER_CHANGE_S + Math.max(rule.waitS(), chargeS);
    if (rule.withinRatio().isEmpty()) {
      return waitS;
    }
    double cycles = point.rules().readings().lineCycles();
    double nominalA = nominalA(point);
    double within = rule.withinRatio().get();
    double unit =
        speeds.scatter().ofUnit(point.conditions().range().orElse(""), cycles / speeds.lineHz());
    OptionalDouble meterA = speeds.scatter().ofMeterA(nominalA, cycles);
    double count =
        meterA.isEmpty()
            ? StandstillReadings.OF_NOISE_ALONE
            : count(
                Math.hypot(meterA.getAsDouble() / nominalA, unit),
                within,
                SettleRule.CREEP * within);
    return waitS
        + Math.min(count * speeds.readingS(cycles), rule.atMostS() + speeds.readingS(cycles));
  }

  /** A zero is read until it stands still, and then as long again. */
  double zeroS(PlannedPoint point) {
    double cycles = point.rules().readings().lineCycles();
    double nominalA = nominalA(point);
    OptionalDouble meterA = speeds.scatter().ofMeterA(nominalA, cycles);
    double count =
        meterA.isEmpty()
            ? StandstillReadings.OF_NOISE_ALONE
            : count(
                meterA.getAsDouble() / nominalA,
                Double.POSITIVE_INFINITY,
                SettleRule.NO_STEP_OF_ZERO);
    return waitS(point) + 2 * count * speeds.readingS(cycles);
  }

  private static double nominalA(PlannedPoint point) {
    double size = Math.abs(point.conditions().nominalA().orElse(1));
    return size > 0 ? size : 1;
  }

  /** The expected number of readings; points that differ by less than 1 % share it. */
  private double count(double scatter, double within, double none) {
    if (scatter <= 0) {
      return 2;
    }
    double band = Math.rint(DIGITS * within / scatter) / DIGITS;
    double step = Math.rint(DIGITS * none / scatter) / DIGITS;
    return readings.computeIfAbsent(
        band + " " + step, key -> StandstillReadings.expected(Math.max(1 / DIGITS, band), step));
  }
}
