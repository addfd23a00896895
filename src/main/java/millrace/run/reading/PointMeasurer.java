// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import millrace.bench.Bench;
import millrace.bench.role.Meter;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointConditions;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.run.condition.ConditionSetter;
import millrace.run.condition.RunPosition;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.run.plausibility.EarlierReadingCheck;
import millrace.run.plausibility.EarlierReadingCheck.Source;
import millrace.run.plausibility.ReadingRecheck;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.time.TimeSource;

/** Takes the readings of one point. Single-threaded. */
public final class PointMeasurer {
  private static final int MOST_TRIES = 3;
  private static final List<RoleName> SURROUNDINGS =
      List.of(
          RoleName.UNIT_THERMOMETER,
          RoleName.CHAMBER,
          RoleName.LAB_THERMOMETER,
          RoleName.SHUNT_THERMOMETER,
          RoleName.HYGROMETER,
          RoleName.SUPPLY);

  private final Bench bench;
  private final TimeSource time;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final ConditionSetter conditionSetter;
  private final MeterZeros zeros;
  private final ReadingRecheck readingRecheck;
  private final EarlierReadingCheck succession;

  PointMeasurer(
      RunContext setting,
      Journal journal,
      InterlockWaiting waiting,
      ConditionSetter conditionSetter,
      MeterZeros zeros) {
    this.readingRecheck = new ReadingRecheck(journal, conditionSetter);
    this.succession = new EarlierReadingCheck(journal, conditionSetter);
    this.bench = setting.bench();
    this.time = setting.time();
    this.journal = journal;
    this.waiting = waiting;
    this.conditionSetter = conditionSetter;
    this.zeros = zeros;
  }

  /**
   * The readings of a point.
   *
   * @param readings in the order in which they were taken
   * @param trouble why the point must be flagged; empty if it is good
   */
  public record Taken(List<Reading> readings, Optional<String> trouble) {
    /** These readings and others after them. */
    public Taken and(Taken other) {
      List<Reading> all = new ArrayList<>(readings);
      all.addAll(other.readings());
      return new Taken(all, trouble.or(other::trouble));
    }

    /** The same readings as taken with the unit's leads exchanged. */
    public Taken reversed() {
      return new Taken(readings.stream().map(Taken::reversed).toList(), trouble);
    }

    private static Reading reversed(Reading r) {
      return new Reading(
          r.signal().reversed(),
          r.instrument(),
          r.state(),
          r.value(),
          r.zero(),
          r.raw(),
          r.takenAt(),
          r.elapsed());
    }
  }

  /** Takes current and voltage as often as the rule says, and the surroundings once. */
  public Taken measure(PointConditions conditions, ReadingRule rule) {
    while (true) {
      Taken taken = once(conditions, rule);
      Optional<RoleName> over = overloaded(taken);
      if (over.isEmpty() || !conditionSetter.rangeUp(over.get())) {
        return taken;
      }
    }
  }

  private static Optional<RoleName> overloaded(Taken taken) {
    for (Reading r : taken.readings()) {
      if (r.state() == ReadingState.OVERLOAD && r.signal() == MeasuredSignal.CURRENT) {
        return Optional.of(RoleName.CURRENT_METER);
      } else if (r.state() == ReadingState.OVERLOAD && r.signal() == MeasuredSignal.VOLTAGE) {
        return Optional.of(RoleName.VOLTMETER);
      }
    }
    return Optional.empty();
  }

  private Taken once(PointConditions conditions, ReadingRule rule) {
    List<Reading> readings = new ArrayList<>();
    List<String> troubles = new ArrayList<>();
    OptionalDouble zero = zeros.of(conditionSetter.settings());
    Spread spread = new Spread();
    double wanted = rule.untilRatio().orElse(Double.POSITIVE_INFINITY);
    double nominal = Math.abs(conditions.nominalA().orElse(1));
    for (int i = 0; i < rule.most(); i++) {
      waiting.look();
      conditionSetter.reading(RunPosition.reading(i + 1, rule));
      boolean last = i + 1 == rule.most();
      Reading current = meter(RoleName.CURRENT_METER, last, zero, troubles, readings);
      current.value().ifPresent(spread::add);
      if (i < rule.voltages() && bench.in(RoleName.VOLTMETER, Meter.class).isPresent()) {
        boolean lastVoltage = last || i + 1 == rule.voltages();
        meter(RoleName.VOLTMETER, lastVoltage, OptionalDouble.empty(), troubles, readings)
            .value()
            .ifPresent(waiting::terminalVoltage);
      }
      boolean overload = current.state() == ReadingState.OVERLOAD;
      boolean enough = i + 1 >= rule.count() && spread.standardErrorBelow(wanted * nominal);
      if (overload || enough) {
        break;
      }
    }
    conditionSetter.reading("");
    askAgain(conditions, zero, troubles, readings);
    surroundings(readings);
    if (zeros.wanting(conditions.range().orElse(""), conditionSetter.settings())) {
      troubles.add("the zero before it could not be taken, so that none is taken off");
    }
    Optional<String> trouble =
        troubles.isEmpty() ? Optional.empty() : Optional.of(String.join("; ", troubles));
    return new Taken(readings, trouble);
  }

  private void askAgain(
      PointConditions conditions,
      OptionalDouble zero,
      List<String> troubles,
      List<Reading> readings) {
    for (RoleName role : List.of(RoleName.CURRENT_METER, RoleName.VOLTMETER)) {
      OptionalDouble off = role == RoleName.CURRENT_METER ? zero : OptionalDouble.empty();
      Runnable again = () -> meter(role, false, off, troubles, readings);
      judged(readings, alike(role, conditions), conditions.range().orElse(""), again)
          .ifPresent(troubles::add);
    }
  }

  /** Indices of the readings of a meter that are numbers. */
  private static int[] numbers(List<Reading> readings, RoleName role) {
    MeasuredSignal signal = role.signal().orElseThrow();
    return IntStream.range(0, readings.size())
        .filter(i -> readings.get(i).signal() == signal)
        .filter(i -> readings.get(i).state() == ReadingState.NUMBER)
        .toArray();
  }

  /**
   * Points of one reading each are compared with one another if all their conditions but the time
   * are equal.
   */
  private Source alike(RoleName role, PointConditions conditions) {
    OptionalDouble load =
        role == RoleName.VOLTMETER ? conditions.loadOhm() : OptionalDouble.empty();
    return new Source(
        role,
        String.join(
            " ",
            conditions.slot().orElse(""),
            conditions.range().orElse(""),
            conditions.setA().toString(),
            load.toString(),
            Boolean.toString(conditionSetter.isReversed()),
            conditionSetter.settings().toString()),
        true);
  }

  /**
   * One reading of a meter, the last that this point is to have of it or another. A reply that is
   * no number is asked for again; every reply is kept.
   */
  private Reading meter(
      RoleName role, boolean last, OptionalDouble zero, List<String> troubles, List<Reading> into) {
    Meter meter = bench.in(role, Meter.class).orElseThrow();
    Reading reading = reading(role, last ? meter.readLast() : meter.read(), zero);
    into.add(reading);
    for (int tries = 1; retryable(reading) && tries < MOST_TRIES; tries++) {
      journal.incident(
          IncidentKind.RETRY,
          "the %s answered '%s', which is %s; asked again"
              .formatted(role.text(), reading.raw(), reading.state().text()));
      reading = reading(role, meter.read(), zero);
      into.add(reading);
    }
    if (reading.value().isEmpty()) {
      troubles.add("the %s gave %s".formatted(role.text(), reading.state().text()));
    }
    return reading;
  }

  private static boolean retryable(Reading reading) {
    return reading.state() == ReadingState.MALFORMED
        || reading.state() == ReadingState.NOT_A_NUMBER;
  }

  private Reading reading(RoleName role, Reply reply, OptionalDouble zero) {
    boolean number = reply.state() == ReadingState.NUMBER;
    OptionalDouble value =
        reply instanceof Reply.Number n ? OptionalDouble.of(n.value()) : OptionalDouble.empty();
    if (number && role == RoleName.CURRENT_METER) {
      waiting.goodReading();
    }
    return new Reading(
        role.signal().orElseThrow(),
        bench.nameIn(role).orElseThrow(),
        reply.state(),
        value,
        number ? zero : OptionalDouble.empty(),
        reply.raw(),
        time.now(),
        journal.elapsed());
  }

  /** Current alone, as in a zero or a time series. */
  public Reading current() {
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    OptionalDouble zero = zeros.of(conditionSetter.settings());
    return reading(RoleName.CURRENT_METER, meter.read(), zero);
  }

  /**
   * Repeats outliers among several currents, or several readings of a check standard; a single
   * reading is compared with the single ones before it.
   *
   * @param readings marked and added to
   * @param what was read
   * @param again reads once more
   * @return why the point must be flagged; empty if they agree
   */
  public Optional<String> agreed(List<Reading> readings, String what, Supplier<Reading> again) {
    Source alike =
        new Source(RoleName.CURRENT_METER, what + " " + conditionSetter.settings(), true);
    return judged(readings, alike, what, () -> readings.add(again.get()));
  }

  private Optional<String> judged(
      List<Reading> readings, Source alike, String what, Runnable again) {
    int[] numbers = numbers(readings, alike.role());
    return numbers.length == 1 && !bench.isByHand(alike.role())
        ? succession.follow(readings, numbers[0], alike, again)
        : readingRecheck.look(readings, alike.role(), what, again);
  }

  /** The current as read, without a zero subtracted. */
  public Reading bareCurrent() {
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    return reading(RoleName.CURRENT_METER, meter.read(), OptionalDouble.empty());
  }

  /** Temperatures, humidity and supply, whatever the bench can read. */
  public void surroundings(List<Reading> into) {
    SURROUNDINGS.forEach(role -> sensor(role, into));
  }

  /** One temperature, for soaking: the unit's, else the chamber's. */
  public Optional<Reading> temperature(List<Reading> into) {
    RoleName role =
        bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).isPresent()
            ? RoleName.UNIT_THERMOMETER
            : RoleName.CHAMBER;
    return sensor(role, into);
  }

  /** What the chamber shows, where {@link #temperature} is the unit's own. */
  public Optional<Reading> air(List<Reading> into) {
    return bench
        .in(RoleName.UNIT_THERMOMETER, Sensor.class)
        .flatMap(unit -> sensor(RoleName.CHAMBER, into));
  }

  /** What a sensor shows; a person who reads it is not asked twice. */
  private Optional<Reading> sensor(RoleName role, List<Reading> into) {
    Optional<Sensor> sensor = bench.in(role, Sensor.class);
    if (sensor.isEmpty()) {
      return Optional.empty();
    }
    Runnable ask = () -> into.add(reading(role, sensor.get().readLast(), OptionalDouble.empty()));
    ask.run();
    if (!bench.isByHand(role)) {
      succession.follow(into, into.size() - 1, new Source(role, "", true), ask);
    }
    return Optional.of(into.get(into.size() - 1));
  }

  /**
   * Current alone, one of many over time.
   *
   * @param into where it goes, with those that were off
   * @param series what all of them have in common
   * @param settles whether the current is to stand still by now
   */
  public void current(List<Reading> into, String series, boolean settles) {
    into.add(current());
    succession.follow(
        into,
        into.size() - 1,
        new Source(RoleName.CURRENT_METER, series, settles),
        () -> into.add(current()));
  }

  /** Running mean and scatter. */
  private static final class Spread {
    private int n;
    private double mean;
    private double squares;

    void add(double x) {
      n++;
      double d = x - mean;
      mean += d / n;
      squares += d * (x - mean);
    }

    boolean standardErrorBelow(double wanted) {
      return Double.isInfinite(wanted) || (n >= 3 && Math.sqrt(squares / (n - 1) / n) < wanted);
    }
  }
}
