package millrace.run;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchFile.Band;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.evidence.IncidentKind;
import millrace.fault.InterlockException;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.time.TimeSource;

/**
 * Lets time pass in slices and looks at interlocks and stop requests between them, so that a breach
 * acts within one polling period. Single-threaded.
 */
final class Watchman {
  private static final Duration JUMP = Duration.ofSeconds(2);
  private static final Duration SHORT = Duration.ofMillis(500);

  private final Bench bench;
  private final TimeSource time;
  private final StopRequest stop;
  private final Journal journal;
  private final BenchFile.Interlocks bounds;
  private Duration lastLook = Duration.ofSeconds(-1_000_000);
  private Duration lastGood;
  private Duration clockGap;
  private boolean resting;

  Watchman(RunSetting setting, Journal journal) {
    this.bench = setting.bench();
    this.time = setting.time();
    this.stop = setting.stop();
    this.journal = journal;
    this.bounds = bench.file().interlocks();
    this.lastGood = time.elapsed();
    this.clockGap = clockGap();
  }

  /** How far the wall clock stands from elapsed time; steady unless somebody sets the clock. */
  private Duration clockGap() {
    return Duration.between(Instant.EPOCH, time.now()).minus(time.elapsed());
  }

  /** A jump changes no duration, but stamps before and after it do not fit together. */
  private void clock() {
    Duration gap = clockGap();
    Duration jump = gap.minus(clockGap);
    clockGap = gap;
    if (jump.abs().compareTo(JUMP) > 0) {
      journal.incident(
          IncidentKind.CLOCK,
          "the wall clock jumped by %s%s against elapsed time; durations are not touched"
              .formatted(
                  jump.isNegative() ? "-" : "+",
                  Quantities.print(jump.abs().toMillis() / 1e3, Dimension.TIME, 4)));
    }
  }

  /** A good reading of the current has come. */
  void goodReading() {
    lastGood = time.elapsed();
  }

  /** Waits where no reading is expected. */
  void rest(Duration span) {
    resting = true;
    try {
      sleep(span);
    } finally {
      resting = false;
      goodReading();
    }
  }

  /** Waits, looking around meanwhile. */
  void sleep(Duration span) {
    Duration until = time.elapsed().plus(span);
    Duration period = Duration.ofNanos(Math.round(bounds.pollS() * 1e9));
    while (true) {
      look();
      Duration left = until.minus(time.elapsed());
      if (left.isZero() || left.isNegative()) {
        return;
      }
      Duration slice = left.compareTo(period) < 0 ? left : period;
      pause(slice);
    }
  }

  private void pause(Duration slice) {
    try {
      time.sleep(slice);
    } catch (InterruptedException e) {
      stop.throwIfAsked(journal.run());
      Thread.currentThread().interrupt();
      throw new IllegalStateException("the run was interrupted without a reason", e);
    }
  }

  /** Ends the run if that was asked for; looks at the interlocks when their time has come. */
  void look() {
    stop.throwIfAsked(journal.run());
    clock();
    Duration now = time.elapsed();
    if (now.minus(lastLook).compareTo(Duration.ofNanos(Math.round(bounds.pollS() * 1e9))) < 0) {
      return;
    }
    lastLook = now;
    band(RoleName.CHAMBER, bounds.chamberDegC(), "chamber temperature", Dimension.TEMPERATURE);
    band(RoleName.UNIT_THERMOMETER, bounds.unitDegC(), "unit temperature", Dimension.TEMPERATURE);
    band(RoleName.HYGROMETER, below(bounds.humidity()), "room humidity", Dimension.HUMIDITY);
    supplyCurrent();
    silence(now);
    disk();
  }

  static Duration shortWait() {
    return SHORT;
  }

  private static Optional<Band> below(Optional<Double> most) {
    return most.map(m -> new Band(Double.NEGATIVE_INFINITY, m));
  }

  private void band(RoleName role, Optional<Band> band, String what, Dimension dimension) {
    if (band.isPresent()) {
      bench
          .in(role, Sensor.class)
          .map(Sensor::read)
          .ifPresent(reply -> check(reply, band.get(), what, dimension));
    }
  }

  private void supplyCurrent() {
    if (bounds.supplyA().isPresent()) {
      Band band = new Band(Double.NEGATIVE_INFINITY, bounds.supplyA().get());
      bench
          .in(RoleName.SUPPLY, Supply.class)
          .map(Supply::readCurrent)
          .ifPresent(reply -> check(reply, band, "supply current", Dimension.CURRENT));
    }
  }

  private void silence(Duration now) {
    double age = now.minus(lastGood).toMillis() / 1e3;
    if (!resting && bounds.silenceS().isPresent() && age > bounds.silenceS().get()) {
      breach(
          "the age of the last good reading",
          Quantities.print(age, Dimension.TIME, 3),
          "at most " + Quantities.print(bounds.silenceS().get(), Dimension.TIME));
    }
  }

  private void disk() {
    if (bounds.freeDiskBytes().isPresent()) {
      double free = journal.logbook().toFile().getUsableSpace();
      if (free < bounds.freeDiskBytes().get()) {
        breach(
            "free disk",
            Quantities.print(free, Dimension.DATA, 3),
            "at least " + Quantities.print(bounds.freeDiskBytes().get(), Dimension.DATA));
      }
    }
  }

  /** Holds the terminal voltage against its bound. */
  void terminalVoltage(double volts) {
    if (bounds.terminalV().isPresent() && Math.abs(volts) > bounds.terminalV().get()) {
      breach(
          "terminal voltage",
          Quantities.print(volts, Dimension.VOLTAGE, 4),
          "at most " + Quantities.print(bounds.terminalV().get(), Dimension.VOLTAGE));
    }
  }

  private void check(Reply reply, Band band, String what, Dimension dimension) {
    if (reply instanceof Reply.Number number && !band.contains(number.value())) {
      String expected =
          Double.isInfinite(band.lower())
              ? "at most " + Quantities.print(band.upper(), dimension)
              : "from %s to %s"
                  .formatted(
                      Quantities.print(band.lower(), dimension),
                      Quantities.print(band.upper(), dimension));
      breach(what, Quantities.print(number.value(), dimension, 4), expected);
    }
  }

  private void breach(String what, String found, String expected) {
    String text =
        "interlock: %s is %s; expected %s. The bench goes to its safe state; find the cause before going on."
            .formatted(what, found, expected);
    journal.incident(IncidentKind.BREACH, text);
    throw new InterlockException(text);
  }
}
