// SPDX-License-Identifier: Apache-2.0
package millrace.time;

import java.time.Duration;
import java.time.Instant;

/**
 * The one way to ask what time it is and to let time pass. Wall-clock time only stamps; durations
 * come from the monotonic reading.
 *
 * <p>Implementations are thread-safe.
 */
public interface TimeSource {
  /**
   * The wall clock, for stamps only: it may jump.
   *
   * @return the present instant
   */
  Instant now();

  /**
   * Time since an arbitrary start; never runs backwards.
   *
   * @return elapsed time of this source
   */
  Duration elapsed();

  /**
   * How long the machine has slept (a closed lid) since this source began, which elapsed time
   * leaves out.
   *
   * @return zero or more; zero if the system does not report it
   */
  default Duration asleep() {
    return Duration.ZERO;
  }

  /**
   * Lets this much time pass.
   *
   * @param span how long; nothing happens when it is zero or negative
   * @throws InterruptedException if the thread was interrupted while waiting
   */
  void sleep(Duration span) throws InterruptedException;
}
