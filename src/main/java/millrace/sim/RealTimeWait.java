// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import millrace.time.SystemClock;

/**
 * Waits in real time without advancing the clock of the bench, for faults that links notice in real
 * time.
 */
final class RealTimeWait {
  private RealTimeWait() {}

  /** Waits for a number of real seconds, or until interrupted. */
  static void rest(double seconds) {
    try {
      new SystemClock().sleep(Duration.ofMillis(Math.round(seconds * 1000)));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
