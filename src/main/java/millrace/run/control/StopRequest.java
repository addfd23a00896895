// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.LongFunction;
import millrace.fault.StoppedException;
import org.jspecify.annotations.Nullable;

/** A request to end the run, from a signal handler or another thread. Thread-safe. */
public final class StopRequest {
  private final AtomicReference<@Nullable Asked> asked = new AtomicReference<>();
  private @Nullable Thread runner;

  private final LongFunction<String> goOn;
  private final boolean amongBoards;

  /** Who made the request, and which kind of end it is. */
  private record Asked(StoppedException.Signal signal, String by) {}

  /**
   * No wish yet.
   *
   * @param goOn gives for a run number the sentence that tells the person how to resume it
   */
  public StopRequest(LongFunction<String> goOn) {
    this(goOn, false);
  }

  private StopRequest(LongFunction<String> goOn, boolean amongBoards) {
    this.goOn = goOn;
    this.amongBoards = amongBoards;
  }

  /**
   * No request yet, where boards are tested: a board may be removed, so that its test is not
   * resumed.
   *
   * @return the request
   */
  public static StopRequest amongBoards() {
    return new StopRequest(
        run -> "The board of run %s was not tested to its end: scan it again.".formatted(run),
        true);
  }

  /** Whether what is measured is one board of many. */
  public boolean isAmongBoards() {
    return amongBoards;
  }

  /**
   * Asks the run to end; it stops at its next reading or wait.
   *
   * @param signal which signal came
   */
  public void stop(StoppedException.Signal signal) {
    stop(new Asked(signal, "by a signal (" + signal + ")"));
  }

  /** Asks the run to end on a request from another terminal. */
  void stopFromElsewhere() {
    stop(new Asked(StoppedException.Signal.TERM, "from another terminal"));
  }

  private synchronized void stop(Asked now) {
    asked.compareAndSet(null, now);
    if (runner != null) {
      runner.interrupt();
    }
  }

  /**
   * Which signal came.
   *
   * @return the first; empty if none came
   */
  public Optional<StoppedException.Signal> asked() {
    return Optional.ofNullable(asked.get()).map(Asked::signal);
  }

  /**
   * From here on a request interrupts this thread, at once if it came before.
   *
   * @param thread which one
   * @return the thread that was interrupted until now, for {@link #backTo}
   */
  public synchronized @Nullable Thread runsIn(Thread thread) {
    Thread before = runner;
    runner = thread;
    if (asked.get() != null) {
      thread.interrupt();
    }
    return before;
  }

  /**
   * From here on a request interrupts another thread again.
   *
   * @param before which one; null for none
   */
  public synchronized void backTo(@Nullable Thread before) {
    if (before == null) {
      over();
    } else {
      runner = before;
    }
  }

  /** From here on a request interrupts no thread; an earlier interrupt is cleared. */
  public synchronized void over() {
    runner = null;
    if (asked.get() != null) {
      Thread.interrupted();
    }
  }

  /** Ends the run if that was asked for. */
  public void throwIfAsked(long run) {
    Asked now = asked.get();
    if (now != null) {
      throw new StoppedException(
          now.signal(),
          "stopped %s; every point shown is in the logbook. %s"
              .formatted(now.by(), goOn.apply(run)));
    }
  }
}
