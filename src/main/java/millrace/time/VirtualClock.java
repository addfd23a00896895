// SPDX-License-Identifier: Apache-2.0
package millrace.time;

import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;

/**
 * A clock that moves only when someone sleeps on it or books busy time, so that a night takes
 * seconds.
 *
 * <p>The runner sleeps on it; a simulated instrument that is busy (integrating, switching) books
 * that time by {@link #sleep} before it answers. Thread-safe: concurrent bookings add up.
 */
public final class VirtualClock implements TimeSource {
  /** The next wait makes up for shorter ones. */
  private static final long LEAST_WAIT_NANOS = 1_000_000;

  private final Instant start;
  private final AtomicLong elapsedNanos;
  private final AtomicLong jumpedNanos = new AtomicLong();
  private final AtomicLong asleepNanos = new AtomicLong();
  private final double pace;
  private final long began = System.nanoTime();

  /**
   * A clock that starts at the given wall time.
   *
   * @param start the wall time at which elapsed time is zero
   */
  public VirtualClock(Instant start) {
    this(start, Duration.ZERO);
  }

  /**
   * A clock that continues from an elapsed time, as after a resume.
   *
   * @param start the wall time at which elapsed time is zero
   * @param elapsed what has passed already; not negative
   */
  public VirtualClock(Instant start, Duration elapsed) {
    this(start, elapsed, Double.POSITIVE_INFINITY);
  }

  private VirtualClock(Instant start, Duration elapsed, double pace) {
    if (elapsed.isNegative()) {
      throw new IllegalArgumentException("elapsed time " + elapsed + " is negative");
    }
    this.start = start;
    this.pace = pace;
    this.elapsedNanos = new AtomicLong(elapsed.toNanos());
  }

  /**
   * A clock that runs at most so many times faster than real, so that a person can look on.
   *
   * @param start the wall time at which elapsed time is zero
   * @param pace how many times faster than real, above 0
   * @return the clock
   */
  public static VirtualClock paced(Instant start, double pace) {
    if (!(pace > 0)) {
      throw new IllegalArgumentException("a pace of " + pace + "; expected one above 0");
    }
    return new VirtualClock(start, Duration.ZERO, pace);
  }

  @Override
  public Instant now() {
    return start.plusNanos(elapsedNanos.get()).plusNanos(jumpedNanos.get());
  }

  @Override
  public Duration elapsed() {
    return Duration.ofNanos(elapsedNanos.get());
  }

  @Override
  public void sleep(Duration span) throws InterruptedException {
    if (Thread.interrupted()) {
      throw new InterruptedException();
    }
    if (!span.isNegative()) {
      long elapsed = elapsedNanos.addAndGet(span.toNanos());
      long ahead = (long) (elapsed / pace) - (System.nanoTime() - began);
      if (ahead > LEAST_WAIT_NANOS) {
        TimeUnit.NANOSECONDS.sleep(ahead);
      }
    }
  }

  @Override
  public Duration asleep() {
    return Duration.ofNanos(asleepNanos.get());
  }

  /**
   * Lets the machine sleep, as a closed lid would: the wall clock goes on, elapsed time does not.
   *
   * @param span how long; 0 or more
   */
  public void suspend(Duration span) {
    jump(span);
    asleepNanos.addAndGet(span.toNanos());
  }

  /**
   * Puts the wall clock forward or back, as a person or a time server would; elapsed time does not
   * notice.
   *
   * @param by how far; negative for back
   */
  public void jump(Duration by) {
    jumpedNanos.addAndGet(by.toNanos());
  }
}
