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
 * Sends the pieces of a page that changed, and a beat in between, so that a lost connection shows
 * (server-sent events, WHATWG HTML standard 9.2). Thread-safe; each stream has a thread.
 */
final class EventStreams {
  private static final int MOST = 48;
  private static final Duration BETWEEN_LOOKS = Duration.ofSeconds(1);
  private static final int LOOKS_TO_A_BEAT = 2;

  private final Semaphore places = new Semaphore(MOST);
  private final SystemClock time = new SystemClock();
  private volatile boolean over;

  /** Takes one of the places; false if none is left. */
  boolean enter() {
    return places.tryAcquire();
  }

  void leave() {
    places.release();
  }

  /** Every stream ends at its next look. */
  void end() {
    over = true;
  }

  /** Follows the pieces of a page until whoever reads has gone. */
  void follow(Supplier<Map<String, String>> page, OutputStream out) throws IOException {
    Map<String, Integer> sent = new HashMap<>();
    out.write("retry: 1500\n\n".getBytes(StandardCharsets.UTF_8));
    int looks = 0;
    while (!over) {
      boolean any = false;
      for (Map.Entry<String, String> piece : pieces(page).entrySet()) {
        Integer hash = piece.getValue().hashCode();
        if (!hash.equals(sent.put(piece.getKey(), hash))) {
          out.write(event(piece.getKey(), piece.getValue()));
          any = true;
        }
      }
      looks = any ? 0 : looks + 1;
      if (looks % LOOKS_TO_A_BEAT == 1) {
        out.write("event: beat\ndata: \n\n".getBytes(StandardCharsets.UTF_8));
      }
      out.flush();
      rest();
    }
  }

  /** A file that cannot be read for a moment is looked at again. */
  private static Map<String, String> pieces(Supplier<Map<String, String>> page) {
    try {
      return page.get();
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

  private void rest() throws IOException {
    try {
      time.sleep(BETWEEN_LOOKS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("the server ends", e);
    }
  }
}
