// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

import static java.util.Comparator.naturalOrder;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.ObjDoubleConsumer;
import java.util.function.Supplier;
import millrace.bench.Bench;
import millrace.bench.Interlocks;
import millrace.bench.Interlocks.Warmth;
import millrace.bench.role.Chamber;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.evidence.IncidentKind;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.fault.InterlockException;
import millrace.fault.LogbookException;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.control.InterlockLook;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.time.SystemClock;
import millrace.time.TimeSource;

/**
 * Polls the interlocks. An interlock whose sensor gives no number is blind; if that lasts it is a
 * breach. Each interlock has its own polling time. While one sensor is waited for the others are
 * still polled, except those on the same link, so that a slow link delays no other breach.
 * Single-threaded.
 */
final class InterlockWatch {
  private static final int MOST_BLIND = 3;
  private static final String CHAMBER_ALARM = "chamber alarm";
  private static final String DEW_POINT = "dew point";
  private static final String FREE_DISK = "free disk";

  /**
   * A sensor that answers within this time is waited for alone: no slower one is polled meanwhile.
   * Real time.
   */
  private static final Duration PROMPT = Duration.ofMillis(100);

  /** Share of the polling period after which an interlock is tried again if its link was in use. */
  private static final int WHEN_BUSY = 10;

  private final Bench bench;
  private final TimeSource time;
  private final Journal journal;
  private final Interlocks bounds;
  private final Duration period;
  private final List<Lock> locks = new ArrayList<>();
  private final Deque<SystemClock.Deadline> waitedFor = new ArrayDeque<>();

  InterlockWatch(RunContext setting, Journal journal) {
    this.bench = setting.bench();
    this.time = setting.time();
    this.journal = journal;
    this.bounds = bench.file().interlocks();
    this.period = TimeSpanSeconds.ofSeconds(bounds.pollS());
    Thermals thermals = new Thermals(journal::elapsed, this::seen);
    sensor(RoleName.CHAMBER, "chamber temperature", bounds.chamber().bounded())
        .ifPresent(v -> add(v, thermals.within(bounds.chamber(), v.what)));
    bench
        .in(RoleName.CHAMBER, Chamber.class)
        .filter(c -> bounds.chamberAlarm())
        .flatMap(Chamber::alarm)
        .ifPresent(ask -> locks.add(new Lock(CHAMBER_ALARM, () -> alarm(ask))));
    sensor(RoleName.UNIT_THERMOMETER, "unit temperature", bounds.unit().bounded())
        .ifPresent(v -> add(v, thermals.within(bounds.unit(), v.what)));
    sensor(RoleName.HYGROMETER, "room humidity", bounds.humidity().isPresent())
        .ifPresent(
            v ->
                add(
                    v,
                    x -> outside(v.what, x, bounds.humidity().orElseThrow(), Dimension.HUMIDITY)));
    bounds
        .supplyA()
        .flatMap(most -> bench.in(RoleName.SUPPLY, Supply.class))
        .map(s -> new Value("supply current", s::readCurrent, bench.isByHand(RoleName.SUPPLY)))
        .ifPresent(
            v -> add(v, x -> outside(v.what, x, below(bounds.supplyA()), Dimension.CURRENT)));
    locks.add(new Lock(DEW_POINT, this::dew));
    locks.add(new Lock(FREE_DISK, this::disk));
    locks.add(new Lock("hours", this::hours));
  }

  /** How the bound is violated, in words of a message; empty if it holds. */
  record Broken(String what, String found, String expected) {}

  /** Checks a number against its bound. */
  interface Bound {
    Optional<Broken> broken(double value);
  }

  /** A quantity that is read; a person is not asked for it twice. */
  private record Value(String what, Supplier<Reply> ask, boolean byHand) {
    double number() {
      Reply reply = ask.get();
      if (reply instanceof Reply.Number number) {
        return number.value();
      }
      throw new InstrumentException(
          "the sensor of the %s gave '%s', which is %s; expected a number. Check the sensor."
              .formatted(what, reply.raw(), reply.state().text()));
    }
  }

  private Optional<Value> sensor(RoleName role, String what, boolean asked) {
    return bench
        .in(role, Sensor.class)
        .filter(s -> asked)
        .map(s -> new Value(what, s::glance, bench.isByHand(role)));
  }

  private void add(Value value, Bound bound) {
    locks.add(new Lock(value.what, () -> look(value, bound)));
  }

  private void look(Value value, Bound bound) {
    double found = value.number();
    seen(value.what, found);
    bound
        .broken(found)
        .ifPresent(
            b -> again(b, () -> value.byHand ? Optional.of(b) : bound.broken(value.number())));
  }

  private void seen(String what, double value) {
    journal.tell(o -> o.looked(InterlockLook.number(what, value)));
  }

  private void seen(String what, String state) {
    journal.tell(o -> o.looked(InterlockLook.state(what, state)));
  }

  private void alarm(Supplier<Optional<String>> ask) {
    Supplier<Optional<Broken>> look =
        () -> ask.get().map(a -> new Broken(CHAMBER_ALARM, "'" + a + "'", "none"));
    Optional<Broken> broken = look.get();
    seen(CHAMBER_ALARM, broken.map(Broken::found).orElse("none"));
    broken.ifPresent(first -> again(first, look));
  }

  /**
   * A single outlier must not end a night, so that a breach is read again; a reading that cannot be
   * repeated counts as it is.
   */
  private void again(Broken first, Supplier<Optional<Broken>> anew) {
    Optional<Broken> second;
    try {
      second = anew.get();
    } catch (InstrumentException e) {
      second = Optional.of(first);
    }
    second.ifPresent(this::breach);
    journal.incident(
        IncidentKind.CAUTION,
        "interlock: %s was %s, expected %s, and within when asked again at once; taken for a wrong reading"
            .formatted(first.what(), first.found(), first.expected()));
  }

  private static ClosedInterval below(Optional<Double> most) {
    return new ClosedInterval(Double.NEGATIVE_INFINITY, most.orElseThrow());
  }

  /** One interlock. */
  private final class Lock {
    private final String what;
    private final Runnable check;
    private boolean beingRead;
    private int blind;
    private Duration due;

    Lock(String what, Runnable check) {
      this.what = what;
      this.check = check;
      this.due = time.elapsed();
    }

    /**
     * Not polled while its own reply is awaited. While another reply is awaited, polled only if
     * that one is slow, and not if this one was slow itself.
     */
    boolean mayBeLookedAt() {
      boolean alone = waitedFor.isEmpty();
      return !beingRead
          && due.compareTo(time.elapsed()) <= 0
          && (alone || (blind == 0 && waitedFor.element().left().isZero()));
    }

    void look() {
      beingRead = true;
      due = time.elapsed().plus(period);
      waitedFor.push(SystemClock.deadline(PROMPT));
      try {
        check.run();
        blind = 0;
      } catch (InstrumentException e) {
        if (e.trouble().filter(t -> t.kind() == Kind.BUSY).isEmpty()) {
          blind(String.valueOf(e.getMessage()));
        } else {
          due = time.elapsed().plus(period.dividedBy(WHEN_BUSY));
        }
      } finally {
        waitedFor.pop();
        beingRead = false;
      }
    }

    private void blind(String why) {
      blind++;
      String text = "the interlock on the %s cannot be watched".formatted(what);
      if (blind >= MOST_BLIND) {
        stop(
            "interlock: %s, which was so at %s looks in a row: %s The bench goes to its safe state."
                .formatted(text, blind, why.endsWith(".") ? why : why + "."));
      }
      journal.incident(IncidentKind.CAUTION, text + ": " + why);
    }
  }

  /** Polls each interlock that is due. */
  void look() {
    for (Lock lock : locks) {
      if (lock.mayBeLookedAt()) {
        lock.look();
      }
    }
  }

  /** Time until the next one is due; at least so long that the run gets on. */
  Duration untilDue() {
    Duration now = time.elapsed();
    Duration next = locks.stream().map(l -> l.due.minus(now)).min(naturalOrder()).orElse(period);
    Duration least = period.dividedBy(WHEN_BUSY);
    return next.compareTo(least) < 0 ? least : next;
  }

  /** Bounds on a temperature and on how fast it changes from one look to the next. */
  private record Thermals(Supplier<Duration> elapsed, ObjDoubleConsumer<String> seen) {
    Bound within(Warmth bound, String what) {
      double[] last = {Double.NaN, 0};
      return degC -> {
        double now = TimeSpanSeconds.seconds(elapsed.get());
        double rate = (degC - last[0]) / (now - last[1]);
        if (Double.isFinite(rate)) {
          seen.accept("rate of the " + what, rate);
        }
        Optional<Broken> broken =
            bound
                .degC()
                .flatMap(band -> outside(what, degC, band, Dimension.TEMPERATURE))
                .or(() -> tooFast(bound, what, rate));
        if (broken.isEmpty()) {
          last[0] = degC;
          last[1] = now;
        }
        return broken;
      };
    }

    private static Optional<Broken> tooFast(Warmth bound, String what, double rate) {
      return bound
          .mostKPerS()
          .filter(most -> Double.isFinite(rate))
          .flatMap(
              most ->
                  outside(
                      "rate of the " + what,
                      rate,
                      new ClosedInterval(-most, most),
                      Dimension.TEMPERATURE_RATE));
    }
  }

  private static Optional<Broken> outside(
      String what, double x, ClosedInterval band, Dimension dimension) {
    if (band.contains(x)) {
      return Optional.empty();
    }
    return Optional.of(
        new Broken(what, QuantityText.print(x, dimension, 4), band.inWords(dimension)));
  }

  /** With the door open nothing in the chamber may be colder than the room's dew point. */
  private void dew() {
    if (bounds.dewMarginK().isPresent() && isOpen()) {
      double coldest = number("chamber temperature", RoleName.CHAMBER);
      refuseBelowDew("chamber temperature", coldest);
    } else if (bounds.dewMarginK().isPresent()) {
      seen(DEW_POINT, "door not open");
    }
  }

  /** Refuses to send the chamber below the room's dew point while its door is open. */
  void beforeCooling(double setpointDegC) {
    if (bounds.dewMarginK().isPresent() && isOpen()) {
      refuseBelowDew("setpoint of the chamber", setpointDegC);
    }
  }

  private boolean isOpen() {
    return bench
        .in(RoleName.CHAMBER, Chamber.class)
        .flatMap(Chamber::door)
        .map(BooleanSupplier::getAsBoolean)
        .orElse(false);
  }

  private double number(String what, RoleName role) {
    return sensor(role, what, true).orElseThrow().number();
  }

  private void refuseBelowDew(String what, double degC) {
    double room = number("room temperature", RoleName.LAB_THERMOMETER);
    double humidity = number("room humidity", RoleName.HYGROMETER);
    double dewDegC = DewPoint.degC(room, Math.max(humidity, 0.01));
    double least = dewDegC + bounds.dewMarginK().orElseThrow();
    seen(DEW_POINT, degC - dewDegC);
    if (degC < least) {
      breach(
          new Broken(
              what,
              QuantityText.print(degC, Dimension.TEMPERATURE, 4) + " with the door open",
              "at least %s, the room's dew point and %s"
                  .formatted(
                      QuantityText.print(least, Dimension.TEMPERATURE, 3),
                      QuantityText.print(
                          bounds.dewMarginK().get(), Dimension.TEMPERATURE_DIFFERENCE))));
    }
  }

  private void disk() {
    Path logbook = journal.logbook();
    if (Files.notExists(logbook)) {
      throw new LogbookException(
          "logbook '%s' is not where it was any more; expected that nobody moves or deletes it while a run writes it. Put it back, with the files beside it, and go on with --resume."
              .formatted(logbook));
    }
    double free = logbook.toFile().getUsableSpace();
    seen(FREE_DISK, free);
    if (bounds.freeDiskBytes().filter(least -> free < least).isPresent()) {
      breach(
          new Broken(
              FREE_DISK,
              QuantityText.print(free, Dimension.DATA, 3),
              "at least " + QuantityText.print(bounds.freeDiskBytes().get(), Dimension.DATA)));
    }
  }

  private void hours() {
    LocalTime now = LocalTime.ofInstant(time.now(), ZoneId.systemDefault());
    if (bounds.hours().filter(hours -> !hours.contains(now)).isPresent()) {
      breach(
          new Broken(
              "time of the day",
              now.withNano(0).toString(),
              bounds.hours().get() + ", when this bench may be at work"));
    }
  }

  /** Ends the run. */
  void breach(Broken broken) {
    stop(
        "interlock: %s is %s; expected %s. The bench goes to its safe state; find the cause before going on."
            .formatted(broken.what(), broken.found(), broken.expected()));
  }

  private void stop(String text) {
    journal.incident(IncidentKind.BREACH, text);
    throw new InterlockException(text);
  }
}
