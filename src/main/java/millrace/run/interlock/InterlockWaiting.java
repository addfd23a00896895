// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

import java.time.Duration;
import java.time.ZoneId;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import millrace.bench.Bench;
import millrace.bench.Interlocks;
import millrace.evidence.IncidentKind;
import millrace.fault.InstrumentException;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.StopRequest;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.time.BackgroundThreads;
import millrace.time.TimeSource;

/**
 * Lets time pass in slices and looks at interlocks and stop requests between them, so that a breach
 * acts within one polling period. Single-threaded.
 */
public final class InterlockWaiting {
  /** Real time between looks at interlocks while something is computed, ms. */
  private static final long BETWEEN_LOOKS_MS = 100;

  private final Bench bench;
  private final TimeSource time;
  private final StopRequest stop;
  private final OperatorPrompt operator;
  private final Journal journal;
  private final Interlocks bounds;
  private final InterlockWatch interlocks;
  private final ClockWatch clock;
  private Duration lastGood;
  private Runnable hearing = () -> {};
  private int naps;
  private boolean resting;

  /**
   * Waits on behalf of one run.
   *
   * @param setting what the run was given
   * @param journal takes breaches and jumps of the clock as incidents
   */
  public InterlockWaiting(RunContext setting, Journal journal) {
    this.bench = setting.bench();
    this.time = setting.time();
    this.stop = setting.stop();
    this.operator = setting.operator();
    this.journal = journal;
    this.bounds = bench.file().interlocks();
    this.interlocks = new InterlockWatch(setting, journal);
    this.clock = new ClockWatch(time, ZoneId.systemDefault());
    this.lastGood = time.elapsed();
  }

  /**
   * After the machine slept the state of the bench is unknown: the step in progress fails and is
   * repeated, as after any other trouble.
   */
  private void clock() {
    ClockWatch.Noticed noticed = clock.look();
    noticed.texts().forEach(text -> journal.incident(IncidentKind.CLOCK, text));
    if (noticed.slept().isZero()) {
      return;
    }
    naps++;
    goodReading();
    journal.passed(noticed.slept());
    if (journal.isAtPoint()) {
      throw new InstrumentException(String.join("; ", noticed.texts()));
    }
  }

  /** How many times the machine slept. */
  public int naps() {
    return naps;
  }

  /** Notes that a good reading of the current has come. */
  public void goodReading() {
    lastGood = time.elapsed();
  }

  /** Waits where no reading is expected. */
  public void rest(Duration span) {
    resting = true;
    try {
      sleep(span);
    } finally {
      resting = false;
      goodReading();
    }
  }

  /** Waits, looking around meanwhile. */
  public void sleep(Duration span) {
    Duration until = time.elapsed().plus(span);
    while (true) {
      look();
      Duration left = until.minus(time.elapsed());
      if (left.isZero() || left.isNegative()) {
        return;
      }
      Duration due = interlocks.untilDue();
      Duration slice = left.compareTo(due) < 0 ? left : due;
      pause(slice);
    }
  }

  private void pause(Duration slice) {
    try {
      time.sleep(slice);
    } catch (InterruptedException e) {
      interrupted(e);
    }
  }

  /**
   * Waits for what is computed meanwhile on a thread of its own, however long that takes, and looks
   * around. No time of the bench passes for it where its clock is virtual.
   *
   * @param work what is computed; it touches neither bench nor run
   * @return what came of it
   */
  public <T> T whileComputed(Callable<T> work) {
    FutureTask<T> task = new FutureTask<>(work);
    look();
    BackgroundThreads.of("millrace-next", task).start();
    while (true) {
      try {
        return task.get(BETWEEN_LOOKS_MS, TimeUnit.MILLISECONDS);
      } catch (TimeoutException notYet) {
        lookWhileResting();
      } catch (InterruptedException e) {
        interrupted(e);
      } catch (ExecutionException e) {
        throw BackgroundThreads.thrown(e);
      }
    }
  }

  private void interrupted(InterruptedException e) {
    stop.throwIfAsked(journal.run());
    Thread.currentThread().interrupt();
    throw new IllegalStateException("the run was interrupted without a reason", e);
  }

  /** What is heard whenever it is looked around. */
  public void hearing(Runnable requests) {
    hearing = requests;
  }

  /** Ends the run if that was asked for; looks at the interlocks when their time has come. */
  public void look() {
    stop.throwIfAsked(journal.run());
    hearing.run();
    clock();
    interlocks.look();
    silence(time.elapsed());
  }

  /**
   * While a reply is waited for, a broken link is being opened again or a person thinks, interlocks
   * are looked at all the same.
   */
  public void begin() {
    bench.whileWaiting(this::look);
    operator.whileWaiting(this::lookWhileResting);
  }

  private void lookWhileResting() {
    goodReading(); // no request can come before the answer
    look();
  }

  /** From now on interlocks are not acted on: the bench is going to its safe state. */
  public void end() {
    bench.whileWaiting(() -> {});
    operator.whileWaiting(() -> {});
  }

  /** Called before the chamber gets a set point. */
  public void beforeCooling(double setpointDegC) {
    interlocks.beforeCooling(setpointDegC);
  }

  private void silence(Duration now) {
    double age = TimeSpanSeconds.seconds(now.minus(lastGood));
    if (!resting && bounds.silenceS().isPresent() && age > bounds.silenceS().get()) {
      interlocks.breach(
          new InterlockWatch.Broken(
              "the age of the last good reading",
              QuantityText.print(age, Dimension.TIME, 3),
              "at most " + QuantityText.print(bounds.silenceS().get(), Dimension.TIME)));
    }
  }

  /** Checks the terminal voltage against its bound. */
  public void terminalVoltage(double volts) {
    if (bounds.terminalV().isPresent() && Math.abs(volts) > bounds.terminalV().get()) {
      interlocks.breach(
          new InterlockWatch.Broken(
              "terminal voltage",
              QuantityText.print(volts, Dimension.VOLTAGE, 4),
              "at most " + QuantityText.print(bounds.terminalV().get(), Dimension.VOLTAGE)));
    }
  }
}
