// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.time.BackgroundThreads;

/**
 * Opens a byte path in a thread of its own, so that the waiting thread can poll interlocks
 * meanwhile: a connection without an answer, or an unknown host name, takes seconds. One thread at
 * a time.
 */
final class BackgroundDialling {
  /** The time between two polls of interlocks; short, so that none is late. */
  static final Duration SLICE = Duration.ofMillis(100);

  private final Wire.Dialer dialer;
  private final Runnable meanwhile;

  /**
   * Ways to open a path.
   *
   * @param dialer opens it
   * @param meanwhile called repeatedly until the path is open; an exception from it ends the wait
   */
  BackgroundDialling(Wire.Dialer dialer, Runnable meanwhile) {
    this.dialer = dialer;
    this.meanwhile = meanwhile;
  }

  /**
   * Opens it; a path that opens after the wait has ended is closed again.
   *
   * @throws InstrumentException if it cannot be opened
   */
  Wire dial(LinkTimeouts timing) {
    if (!dialer.takesTime()) {
      return dialer.dial(timing);
    }
    CompletableFuture<Wire> coming = new CompletableFuture<>();
    BackgroundThreads.of("millrace-dial", () -> open(timing, coming)).start();
    boolean taken = false;
    try {
      Wire wire = awaited(coming);
      taken = true;
      return wire;
    } finally {
      if (!taken && !coming.cancel(false)) {
        closeIfOpen(coming);
      }
    }
  }

  private void open(LinkTimeouts timing, CompletableFuture<Wire> coming) {
    try {
      Wire wire = dialer.dial(timing);
      if (!coming.complete(wire)) {
        wire.close();
      }
    } catch (RuntimeException | Error e) {
      coming.completeExceptionally(e);
    }
  }

  private Wire awaited(CompletableFuture<Wire> coming) {
    while (true) {
      try {
        return coming.get(SLICE.toMillis(), TimeUnit.MILLISECONDS);
      } catch (TimeoutException notYet) {
        meanwhile.run();
      } catch (ExecutionException e) {
        throw BackgroundThreads.thrown(e);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new InstrumentException(
            InstrumentTrouble.of(Kind.STOPPED, dialer.address(), "was stopped while it was opened"),
            e);
      }
    }
  }

  private static void closeIfOpen(CompletableFuture<Wire> coming) {
    if (!coming.isCompletedExceptionally()) {
      coming.join().close();
    }
  }
}
