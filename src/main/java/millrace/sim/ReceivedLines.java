// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import millrace.time.TimeSource;

/** Remembers the lines that instruments received. Thread-safe. */
final class ReceivedLines {
  private static final int MOST = 100_000;

  private final TimeSource time;
  private final Deque<HeardLine> heard = new ArrayDeque<>();

  ReceivedLines(TimeSource time) {
    this.time = time;
  }

  synchronized void hear(String instrument, String line) {
    if (heard.size() == MOST) {
      heard.removeFirst();
    }
    heard.addLast(new HeardLine(time.elapsed(), instrument, line));
  }

  synchronized List<HeardLine> heard() {
    return List.copyOf(heard);
  }
}
