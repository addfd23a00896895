// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Supplier;
import millrace.fault.MillraceException;
import millrace.time.SystemClock;
import millrace.watch.live.OwnFaults;

/**
 * The pieces of a page as events, drawn once for all its readers. A piece that is drawn the same
 * again stays the same object, so that a reader sees what is new without comparing text.
 * Thread-safe.
 */
final class SharedPieces {
  /** Says that a page cannot be drawn by a fault of ours. */
  private static final Event FAULT = new Event("event: fault\ndata: \n\n");

  private final Supplier<Map<String, String>> drawing;
  private final Duration between;
  private final OwnFaults faults;
  private Map<String, String> drawn = Map.of();
  private Map<String, Event> events = Map.of();
  private SystemClock.Deadline fresh = SystemClock.deadline(Duration.ZERO);

  /** An event that no longer changes; two of them are the same only if they are one object. */
  static final class Event {
    private final byte[] bytes;

    private Event(String text) {
      this.bytes = text.getBytes(StandardCharsets.UTF_8);
    }

    void writeTo(OutputStream out) throws IOException {
      out.write(bytes);
    }
  }

  /**
   * Creates the pieces of a page.
   *
   * @param drawing draws them, HTML by name
   * @param between how often at most they are drawn
   * @param faults takes what fails by a fault of ours
   */
  SharedPieces(Supplier<Map<String, String>> drawing, Duration between, OwnFaults faults) {
    this.drawing = drawing;
    this.between = between;
    this.faults = faults;
  }

  Duration between() {
    return between;
  }

  /** The pieces now; the earlier ones while the logbook cannot be read. */
  synchronized Map<String, Event> now() {
    if (fresh.passed()) {
      draw();
      fresh = SystemClock.deadline(between.multipliedBy(9).dividedBy(10));
    }
    return events;
  }

  private void draw() {
    Map<String, String> now;
    try {
      now = drawing.get();
    } catch (MillraceException notNow) {
      return; // it is read again
    } catch (RuntimeException ours) {
      faults.add(ours);
      now = Map.of();
      events = Map.of("fault", FAULT);
    }
    if (!now.isEmpty()) {
      Map<String, Event> changed = new LinkedHashMap<>();
      now.forEach((name, html) -> changed.put(name, event(name, html)));
      events = changed;
    }
    drawn = now;
  }

  private Event event(String name, String html) {
    Event before = events.get(name);
    return before != null && html.equals(drawn.get(name)) ? before : new Event(text(name, html));
  }

  private static String text(String name, String html) {
    StringBuilder text = new StringBuilder("event: piece\ndata: ").append(name).append('\n');
    html.lines().forEach(line -> text.append("data: ").append(line).append('\n'));
    return text.append(html.isEmpty() ? "data: \n\n" : "\n").toString();
  }
}
