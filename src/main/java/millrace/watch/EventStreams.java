// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.Semaphore;
import millrace.time.SystemClock;

/**
 * Sends the changed pieces of a page, and a heartbeat in between, so that a lost connection is
 * noticed (server-sent events, WHATWG HTML standard 9.2). Thread-safe; each stream has a thread.
 */
final class EventStreams {
  private static final int MOST = 48;
  private static final Duration BEAT = Duration.ofSeconds(2);

  private final Semaphore places = new Semaphore(MOST);
  private final SystemClock time = new SystemClock();
  private volatile boolean over;

  /** Takes one of the places; false if none is free. */
  boolean enter() {
    return places.tryAcquire();
  }

  void leave() {
    places.release();
  }

  /** Ends every stream at its next check. */
  void end() {
    over = true;
  }

  /** Follows the pieces of a page until the reader disconnects. */
  void follow(SharedPieces page, OutputStream out) throws IOException {
    Map<String, SharedPieces.Event> sent = new HashMap<>();
    out.write("retry: 1500\n\n".getBytes(StandardCharsets.UTF_8));
    SystemClock.Deadline beat = SystemClock.deadline(Duration.ZERO);
    boolean last = false;
    while (!last) {
      last = over; // changes before the end are still sent
      if (sendChanged(page, sent, out)) {
        beat = SystemClock.deadline(BEAT);
      } else if (beat.passed()) {
        out.write("event: beat\ndata: \n\n".getBytes(StandardCharsets.UTF_8));
        beat = SystemClock.deadline(BEAT);
      }
      out.flush();
      if (!last) {
        rest(page.between());
      }
    }
  }

  private static boolean sendChanged(
      SharedPieces page, Map<String, SharedPieces.Event> sent, OutputStream out)
      throws IOException {
    boolean changed = false;
    for (Map.Entry<String, SharedPieces.Event> piece : page.now().entrySet()) {
      if (sent.put(piece.getKey(), piece.getValue()) != piece.getValue()) {
        piece.getValue().writeTo(out);
        changed = true;
      }
    }
    return changed;
  }

  private void rest(Duration between) throws IOException {
    try {
      time.sleep(between);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("the server ends", e);
    }
  }
}
