// SPDX-License-Identifier: Apache-2.0
package millrace.watch.live;

import java.util.HashSet;
import java.util.Set;
import java.util.function.Consumer;

/**
 * Takes what fails by a fault of Millrace itself, so that it does not end unseen with its thread.
 * What fails again and again in one place is passed on once. Thread-safe.
 */
public final class OwnFaults {
  private static final int MOST = 20;

  private final Consumer<Throwable> report;
  private final Set<String> known = new HashSet<>();

  /**
   * Creates it.
   *
   * @param report says a fault to a person
   */
  public OwnFaults(Consumer<Throwable> report) {
    this.report = report;
  }

  /**
   * Takes a fault.
   *
   * @param fault what was thrown
   */
  public synchronized void add(Throwable fault) {
    StackTraceElement[] frames = fault.getStackTrace();
    String place = fault.getClass().getName() + (frames.length == 0 ? "" : frames[0].toString());
    if (known.size() < MOST && known.add(place)) {
      report.accept(fault);
    }
  }
}
