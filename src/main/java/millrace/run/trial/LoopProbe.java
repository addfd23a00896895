// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.role.Meter;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Switch;
import millrace.evidence.PointConditions;
import millrace.run.condition.ConditionSetter;
import millrace.run.plausibility.LoadResistanceCheck.Mean;
import millrace.run.reading.StandstillDetector;
import millrace.run.trial.WiringFaultFinder.Look;

/** Takes single readings of the loop that belong to no point. Single-threaded. */
final class LoopProbe {
  private static final int TIMES = 3;
  private static final Duration SETTLE = Duration.ofMillis(500);
  private static final Duration BETWEEN = Duration.ofMillis(100);
  private static final int MOST_LOOKS = 100;

  /** A step that counts as no movement, as a share of the nominal current. */
  private static final double STEP = 1e-4;

  private final Bench bench;
  private final ConditionSetter conditionSetter;
  private final Consumer<Duration> sleep;

  LoopProbe(Bench bench, ConditionSetter conditionSetter, Consumer<Duration> sleep) {
    this.bench = bench;
    this.conditionSetter = conditionSetter;
    this.sleep = sleep;
  }

  /**
   * The mean of a few readings of the meters.
   *
   * @param loadOhm what the load was set to
   * @param current the current; empty if the meter gave no number
   * @param voltage the voltage; empty without a voltmeter or a number
   */
  record Seen(double loadOhm, Optional<Mean> current, Optional<Mean> voltage) {
    Look look() {
      return new Look(loadOhm, value(current), value(voltage));
    }

    private static OptionalDouble value(Optional<Mean> mean) {
      return mean.map(m -> OptionalDouble.of(m.value())).orElse(OptionalDouble.empty());
    }
  }

  /** Sets conditions and reads. */
  Seen see(PointConditions conditions) {
    settle(conditions);
    return new Seen(
        conditions.loadOhm().orElse(0), mean(RoleName.CURRENT_METER), mean(RoleName.VOLTMETER));
  }

  /** Sets conditions, prepares the meters, and waits until the current has settled. */
  void settle(PointConditions conditions) {
    boolean changed = conditionSetter.establish(conditions);
    conditionSetter.prepareMeters(conditions, 1);
    if (changed) {
      sleep.accept(SETTLE);
      sleep.accept(conditionSetter.capacitanceWait(conditions));
      standStill(conditions);
    }
  }

  /** Waits some seconds for a slow source. */
  private void standStill(PointConditions conditions) {
    Optional<Meter> meter = bench.in(RoleName.CURRENT_METER, Meter.class);
    StandstillDetector still =
        new StandstillDetector(STEP * Math.abs(conditions.nominalA().orElse(0)));
    for (int looks = 0; meter.isPresent() && looks < MOST_LOOKS; looks++) {
      Reply reply = inRange(RoleName.CURRENT_METER, meter.get());
      if (!(reply instanceof Reply.Number number) || still.after(number.value())) {
        return;
      }
      sleep.accept(BETWEEN);
    }
  }

  private Optional<Mean> mean(RoleName role) {
    Optional<Meter> meter = bench.in(role, Meter.class);
    if (meter.isEmpty()) {
      return Optional.empty();
    }
    double[] x = new double[TIMES];
    for (int i = 0; i < TIMES; i++) {
      Reply reply = inRange(role, meter.get());
      if (!(reply instanceof Reply.Number number)) {
        return Optional.empty();
      }
      x[i] = number.value();
    }
    OptionalDouble fullScale = conditionSetter.fullScale(role);
    return fullScale.isEmpty() ? Optional.empty() : Mean.of(x, fullScale.getAsDouble());
  }

  private Reply inRange(RoleName role, Meter meter) {
    Reply reply = meter.read();
    while (reply instanceof Reply.Overload && conditionSetter.rangeUp(role)) {
      reply = meter.read();
    }
    return reply;
  }

  /**
   * The reading of a check standard of the bench through the current meter, divided by its nominal
   * current.
   *
   * @return the ratio; empty if the bench has none or the meter gave no number
   */
  OptionalDouble standardRatio() {
    Optional<Switch> to = bench.in(RoleName.SWITCH, Switch.class);
    Map<String, BenchFile.Standard> standards = bench.file().standards();
    if (to.isEmpty() || standards.isEmpty()) {
      return OptionalDouble.empty();
    }
    BenchFile.Standard standard = standards.values().iterator().next();
    conditionSetter.standard(to.get(), standard.position());
    conditionSetter.prepareMeters(PointConditions.NONE.inRange("", standard.currentA()), 1);
    sleep.accept(SETTLE);
    Optional<Mean> mean = mean(RoleName.CURRENT_METER);
    to.get().disconnect();
    return mean.map(m -> OptionalDouble.of(m.value() / standard.currentA()))
        .orElse(OptionalDouble.empty());
  }
}
