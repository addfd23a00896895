// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.LongFunction;
import millrace.fault.StoppedException;
import org.jspecify.annotations.Nullable;

/** A wish that the run end, from a signal handler or another thread. Thread-safe. */
public final class StopRequest {
  private final AtomicReference<@Nullable Asked> asked = new AtomicReference<>();
  private @Nullable Thread runner;

  private final LongFunction<String> goOn;
  private final boolean amongBoards;

  /** Who asked, and what it counts as. */
  private record Asked(StoppedException.Signal signal, String by) {}

  /**
   * No wish yet.
   *
   * @param goOn tells of a run what to do to go on with it, in a sentence for the person
   */
  public StopRequest(LongFunction<String> goOn) {
    this(goOn, false);
  }

  private StopRequest(LongFunction<String> goOn, boolean amongBoards) {
    this.goOn = goOn;
    this.amongBoards = amongBoards;
  }

  /**
   * No wish yet, where boards are tested: what was begun with one is not gone on with, since it may
   * be taken out.
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

  /** Asks the run to end because somebody at another terminal wishes so. */
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
   * From here on a wish interrupts this thread, at once if it came before.
   *
   * @param thread which one
   * @return the one that was interrupted so far, for {@link #backTo}
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
   * From here on a wish interrupts another thread again.
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

  /** From here on a wish interrupts nobody, and one that did has done its work. */
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
