// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.link.LinkRecording.Event;
import millrace.link.LinkRecording.What;
import millrace.time.SystemClock;

/**
 * Answers from a recorded conversation in place of an instrument, so that events on a bench can be
 * repeated as a test. A query that was not answered then is not answered now; its time-out comes at
 * once.
 */
public final class LinkReplay {
  private final List<Event> events;
  private final Manner manner;

  /** How closely questions must follow the recording. */
  public enum Manner {
    /** Exactly what was sent then, in the same order. */
    STRICT,
    /** Any order: each query gets the next recorded answer to the same query. */
    BY_QUESTION
  }

  private LinkReplay(List<Event> events, Manner manner) {
    this.events = events;
    this.manner = manner;
  }

  /**
   * Reads a recording.
   *
   * @param file its name for messages
   * @param text what it holds
   * @param manner how closely questions must follow it
   * @return the replay
   * @throws millrace.fault.BadInputException if it is no recording
   */
  public static LinkReplay of(String file, String text, Manner manner) {
    return new LinkReplay(LinkRecording.read(file, text), manner);
  }

  /**
   * The links of a bench, each answered from what the recording holds of its address.
   *
   * @return the opener; a link of which the recording holds nothing answers nothing
   */
  public LinkOpener opener() {
    return address ->
        new LinkReplay(of(address), manner).link(address, Framing.LINES, LinkTimeouts.DEFAULT);
  }

  private List<Event> of(LinkAddress address) {
    List<Event> own = new ArrayList<>();
    boolean his = false;
    for (Event event : events) {
      if (event.what() == What.OPEN || event.what() == What.WITH) {
        his = event.bytes().equals(address.toString());
      } else if (his) {
        own.add(event);
      }
    }
    return own;
  }

  /**
   * A link that is answered from the recording, whatever address it was made at.
   *
   * @param address the address to show in messages
   * @param framing how commands and replies end
   * @param timing how long to wait; unanswered questions do not wait
   * @return the link
   */
  public Link link(LinkAddress address, Framing framing, LinkTimeouts timing) {
    ReplayWire wire = manner == Manner.STRICT ? new StrictWire(events) : new ByQuestionWire(events);
    Wire.Dialer dialer = t -> wire;
    return new Link(
        new SharedLinkChannel(address, dialer, LinkRecorder.NONE, new SystemClock()),
        framing,
        timing);
  }

  /** Bytes that wait to be read. */
  private abstract static class ReplayWire implements Wire {
    private final Deque<String> waiting = new ArrayDeque<>();

    void put(String bytes) {
      waiting.add(bytes);
    }

    @Override
    public int read(byte[] buffer, Duration atMost) {
      String next = waiting.poll();
      if (next == null) {
        return 0;
      }
      int n = Math.min(next.length(), buffer.length);
      for (int i = 0; i < n; i++) {
        buffer[i] = (byte) next.charAt(i);
      }
      if (n < next.length()) {
        waiting.addFirst(next.substring(n));
      }
      return n;
    }

    @Override
    public int waiting() {
      return waiting.stream().mapToInt(String::length).sum();
    }

    @Override
    public boolean remembersWhenReopened() {
      return false;
    }

    @Override
    public boolean waits() {
      return false;
    }

    @Override
    public void close() {
      waiting.clear();
    }
  }

  private static final class StrictWire extends ReplayWire {
    private final List<Event> events;
    private int at;

    StrictWire(List<Event> events) {
      this.events =
          events.stream().filter(e -> e.what() != What.OPEN && e.what() != What.WITH).toList();
    }

    @Override
    public void write(byte[] buffer, int count) throws IOException {
      String sent = latin(buffer, count);
      Event then = at < events.size() ? events.get(at) : new Event(What.BROKE, "(the end)");
      if (then.what() != What.SENT || !then.bytes().equals(sent)) {
        throw new IOException(
            "the recording goes on with "
                + WireText.quoted(then.bytes())
                + " instead of "
                + WireText.quoted(sent));
      }
      at++;
      while (at < events.size() && events.get(at).what() != What.SENT) {
        Event event = events.get(at++);
        if (event.what() == What.RECEIVED) {
          put(event.bytes());
        }
      }
    }
  }

  private static final class ByQuestionWire extends ReplayWire {
    private final Map<String, Deque<List<String>>> answers = new HashMap<>();

    ByQuestionWire(List<Event> events) {
      List<String> open = new ArrayList<>();
      for (Event event : events) {
        if (event.what() == What.SENT) {
          open = new ArrayList<>();
          answers.computeIfAbsent(event.bytes(), q -> new ArrayDeque<>()).add(open);
        } else if (event.what() == What.RECEIVED) {
          open.add(event.bytes());
        }
      }
    }

    @Override
    public void write(byte[] buffer, int count) throws IOException {
      String sent = latin(buffer, count);
      Deque<List<String>> known = answers.get(sent);
      if (known == null) {
        throw new IOException("nobody said " + WireText.quoted(sent) + " in the recording");
      }
      List<String> answer = known.size() > 1 ? known.pop() : known.getFirst();
      answer.forEach(this::put);
    }
  }

  private static String latin(byte[] buffer, int count) {
    return new String(buffer, 0, count, StandardCharsets.ISO_8859_1);
  }
}
