// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import millrace.time.TimeSource;

/** Remembers the lines that instruments received. Thread-safe. */
final class SimReceivedLineLog {
  private static final int MOST = 100_000;

  private final TimeSource time;
  private final Deque<SimReceivedLine> heard = new ArrayDeque<>();

  SimReceivedLineLog(TimeSource time) {
    this.time = time;
  }

  synchronized void hear(String instrument, String line) {
    if (heard.size() == MOST) {
      heard.removeFirst();
    }
    heard.addLast(new SimReceivedLine(time.elapsed(), instrument, line));
  }

  synchronized List<SimReceivedLine> heard() {
    return List.copyOf(heard);
  }
}
