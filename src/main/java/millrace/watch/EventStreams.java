// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.Semaphore;
import java.util.function.Supplier;
import millrace.fault.MillraceException;
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

  /**
   * The content of a page, and the interval of the checks for changes.
   *
   * @param pieces HTML by the name of the piece
   * @param between the interval between checks
   */
  record Followed(Supplier<Map<String, String>> pieces, Duration between) {
    static final Duration USUAL = Duration.ofSeconds(1);
  }

  /** Follows the pieces of a page until the reader disconnects. */
  void follow(Followed page, OutputStream out) throws IOException {
    Map<String, Integer> sent = new HashMap<>();
    out.write("retry: 1500\n\n".getBytes(StandardCharsets.UTF_8));
    SystemClock.Deadline beat = SystemClock.deadline(Duration.ZERO);
    boolean last = false;
    while (!last) {
      last = over; // changes before the end are still sent
      for (Map.Entry<String, String> piece : pieces(page).entrySet()) {
        Integer hash = piece.getValue().hashCode();
        if (!hash.equals(sent.put(piece.getKey(), hash))) {
          out.write(event(piece.getKey(), piece.getValue()));
          beat = SystemClock.deadline(BEAT);
        }
      }
      if (beat.passed()) {
        out.write("event: beat\ndata: \n\n".getBytes(StandardCharsets.UTF_8));
        beat = SystemClock.deadline(BEAT);
      }
      out.flush();
      if (!last) {
        rest(page.between());
      }
    }
  }

  /** A file that is unreadable for a moment is read again. */
  private static Map<String, String> pieces(Followed page) {
    try {
      return page.pieces().get();
    } catch (MillraceException notNow) {
      return Map.of();
    }
  }

  private static byte[] event(String name, String html) {
    StringBuilder text = new StringBuilder("event: piece\ndata: ").append(name).append('\n');
    html.lines().forEach(line -> text.append("data: ").append(line).append('\n'));
    return text.append(html.isEmpty() ? "data: \n\n" : "\n")
        .toString()
        .getBytes(StandardCharsets.UTF_8);
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
