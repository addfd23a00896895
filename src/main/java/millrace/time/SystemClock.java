// SPDX-License-Identifier: Apache-2.0
package millrace.time;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;

/**
 * The system's own clock, optionally running faster than life: the one class that asks the system
 * for time.
 *
 * <p>With factor F, one second of real time counts as F seconds here, so a sleep of F seconds takes
 * one. A simulated bench in a process of its own and the runner that speaks to it are given the
 * same F. Thread-safe.
 */
public final class SystemClock implements TimeSource {
  private static final Path UPTIME = Path.of("/proc/uptime");

  private final double factor;
  private final Instant startWall = Instant.now();
  private final long startNanos = System.nanoTime();

  /** Upper bound of uptime less nanoTime at the start. */
  private final Duration uncounted = uptime().minusNanos(startNanos);

  /** Real time. */
  public SystemClock() {
    this(1.0);
  }

  /**
   * Scaled time.
   *
   * @param factor how many seconds pass here in one real second; above 0 and at most 1e6
   */
  public SystemClock(double factor) {
    if (!(factor > 0 && factor <= 1e6)) {
      throw new IllegalArgumentException("time factor " + factor + " is outside (0, 1e6]");
    }
    this.factor = factor;
  }

  @Override
  public Instant now() {
    return factor == 1.0 ? Instant.now() : startWall.plus(elapsed());
  }

  @Override
  public Duration elapsed() {
    long nanos = System.nanoTime() - startNanos;
    return Duration.ofNanos(factor == 1.0 ? nanos : Math.round(nanos * factor));
  }

  /** A scaled clock ignores sleep of the machine. */
  @Override
  public Duration asleep() {
    if (factor != 1.0) {
      return Duration.ZERO;
    }
    Duration least = uptime().minusNanos(System.nanoTime()).minus(uncounted);
    return least.isNegative() ? Duration.ZERO : least;
  }

  /**
   * Since the machine was started, its sleep included, where Linux tells it (proc(5), 'uptime');
   * System.nanoTime leaves sleep out there. Elsewhere it is constant, so that no sleep is detected.
   */
  private static Duration uptime() {
    try {
      String hundredths = Files.readString(UPTIME).split(" ", 2)[0].replace(".", "");
      return Duration.ofMillis(10 * Long.parseLong(hundredths));
    } catch (IOException | NumberFormatException e) {
      return Duration.ZERO;
    }
  }

  @Override
  public void sleep(Duration span) throws InterruptedException {
    long nanos = factor == 1.0 ? span.toNanos() : Math.round(span.toNanos() / factor);
    if (nanos > 0) {
      Thread.sleep(nanos / 1_000_000, (int) (nanos % 1_000_000));
    }
  }

  /**
   * A real deadline for waits on links and processes, which always count real monotonic time.
   *
   * @param span how long from now, in real time
   * @return the deadline
   */
  public static Deadline deadline(Duration span) {
    return new Deadline(System.nanoTime() + span.toNanos());
  }

  /** An instant of real monotonic time by which something must have happened. Immutable. */
  public static final class Deadline {
    private final long nanos;

    private Deadline(long nanos) {
      this.nanos = nanos;
    }

    /**
     * What is left of the wait.
     *
     * @return the real time left; zero when the deadline has passed
     */
    public Duration left() {
      return Duration.ofNanos(Math.max(0, nanos - System.nanoTime()));
    }

    /**
     * Tells whether the deadline has passed.
     *
     * @return true if nothing is left
     */
    public boolean passed() {
      return System.nanoTime() - nanos >= 0;
    }
  }
}
